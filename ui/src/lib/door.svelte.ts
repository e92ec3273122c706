// lib/door.svelte.ts - who is here: everybody may do everything on a machine of one's own; a shared house asks for a name.
// SPDX-License-Identifier: Apache-2.0
import { lostBy } from './api';
import { may, peopleApi, type AtTheDoor, type RoleName } from './api_people';
import { Loaded } from './loaded.svelte';
import type { Answer } from './types';

class Door {
  at = new Loaded<AtTheDoor>();

  open(): void {
    lostBy(() => this.#lost());
    void this.at.run((signal) => peopleApi.door(signal));
  }
  get shared(): boolean {
    return this.at.value?.shared ?? false;
  }
  get account(): string | null {
    return this.at.value?.account ?? null;
  }
  /** Nobody is signed in where one has to be. */
  get shut(): boolean {
    return this.at.value !== undefined && this.at.value.role === null;
  }
  /** What a page offers; the program itself decides what it does. */
  may(needs: RoleName): boolean {
    return may(this.at.value?.role ?? null, needs);
  }
  async signIn(name: string, password: string): Promise<Answer<AtTheDoor>> {
    const answer = await peopleApi.signIn(name, password);
    if (answer.ok) this.at.value = answer.value;
    return answer;
  }
  async signOut(everywhere: boolean): Promise<Answer<unknown>> {
    const answer = await (everywhere ? peopleApi.signOutEverywhere() : peopleApi.signOut());
    // Whatever a page still holds is of the one who was here.
    if (answer.ok) location.assign('/');
    return answer;
  }
  // The session ended while a page was open: the door shows, and the page is there again afterwards.
  #lost(): void {
    const at = this.at.value;
    if (at?.shared) this.at.value = { ...at, account: null, role: null };
  }
}

export const door = new Door();
