// SPDX-License-Identifier: Apache-2.0
// The calls that only a shared house takes; as those in calls.mjs.

// On a house that is shared: run.mjs starts one besides, and signs nobody in.
export async function atTheDoor(call) {
    await call('alive');
    await call('door');
    await call('pieces', { status: 401 });
    await call('signIn', { body: { name: 'ada', password: 'a wrong one, surely' }, status: 401 });
    const { headers } = await call('signIn', { body: { name: 'ada', password: 'correct horse battery' } });
    const Cookie = headers.get('set-cookie').split(';')[0];
    const as = (more) => ({ ...more, headers: { Cookie } });
    await call('pieces', as());
    await call('ownSessions', as());
    await call('people', as());
    await call('addPerson', as({ body: { name: 'ben', role: 'reader', password: 'ten plates high' } }));
    await call('addPerson', as({ body: { name: 'ben', role: 'reader', password: 'ten plates high' }, status: 409 }));
    await call('addPerson', as({ body: { name: 'B N', role: 'king', password: 'x' }, status: 400 }));
    await call('changePerson', as({ values: { name: 'ben' }, body: { role: 'contributor', password: 'nine plates high' } }));
    await call('changePerson', as({ values: { name: 'ben' }, body: {}, status: 400 }));
    await call('signOutPerson', as({ values: { name: 'ben' } }));
    await call('signOutPerson', as({ values: { name: 'nobody' }, status: 404 }));
    const ben = (await call('signIn', { body: { name: 'ben', password: 'nine plates high' } })).headers.get('set-cookie').split(';')[0];
    await call('audit', { headers: { Cookie: ben }, status: 403 });
    await call('changePassword', { headers: { Cookie: ben }, body: { before: 'nine plates high', after: 'eight plates high' } });
    await call('signOutEverywhere', { headers: { Cookie: ben } });
    await call('removePerson', as({ values: { name: 'ben' } }));
    await call('backups', as());
    await call('removePerson', as({ values: { name: 'ada' }, status: 409 }));
    await call('audit', as({ query: { who: 'ada', limit: 5 } }));
    await call('audit', as({ query: { before: 'yesterday' }, status: 400 }));
    await call('signOut', as());
    await call('pieces', as({ status: 401 }));
}
