// routes/services/allotting.svelte.ts - allotments of the pieces to the services: begun, followed, stopped. It outlives the
//   page, so that one can look at something else meanwhile.
// SPDX-License-Identifier: Apache-2.0
import { servicesApi, type AllotAsked, type Job } from '../../lib/api_services';
import { Loaded } from '../../lib/loaded.svelte';
import type { Problem } from '../../lib/types';
import { running } from './words';

const ASK_AGAIN = 400; // ms between questions while it works

class Allotting {
  list = new Loaded<{ rows: Job[]; total: number }>();
  job = $state.raw<Job | undefined>();
  problems = $state.raw<Problem[]>([]);
  working = $derived(running(this.job));
  /** The newest that has a result. */
  newest = $derived(this.list.value?.rows.find((job) => job.state === 'done' || job.state === 'stopped'));
  /** From the question until the list knows what came of it: nothing else needs to be begun meanwhile. */
  busy = $state(false);
  #following = false;

  async read(): Promise<void> {
    await this.list.run((signal) => servicesApi.allotments(signal));
    const open = this.list.value?.rows.find(running);
    if (open && !this.#following) void this.#follow(open);
  }
  async begin(asked: AllotAsked): Promise<void> {
    if (this.problems.length) this.problems = [];
    this.busy = true;
    const answer = await servicesApi.allot(asked);
    if (answer.ok) await this.#follow(answer.value);
    else this.problems = answer.problems;
    this.busy = false;
  }
  async stop(): Promise<void> {
    if (!this.job) return;
    const answer = await servicesApi.stop(this.job.id);
    if (!answer.ok) this.problems = answer.problems;
  }

  async #follow(job: Job): Promise<void> {
    this.job = job;
    this.#following = this.busy = true;
    while (running(this.job)) {
      await new Promise((go) => setTimeout(go, ASK_AGAIN));
      const answer = await servicesApi.allotment(job.id);
      if (!answer.ok) {
        this.problems = answer.problems;
        break;
      }
      this.job = answer.value;
    }
    this.#following = false;
    if (this.job?.state === 'failed') this.problems = this.job.problems;
    await this.list.run((signal) => servicesApi.allotments(signal));
    this.busy = false;
  }
}
export const allotting = new Allotting();
