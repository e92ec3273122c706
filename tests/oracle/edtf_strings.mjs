// SPDX-License-Identifier: Apache-2.0
// Strings that are EDTF, nearly EDTF and no longer EDTF; the same ones for the same seed.

// mulberry32: small, public domain, and the same on every machine.
function random(seed) {
    let state = seed >>> 0;
    return () => {
        state = (state + 0x6d2b79f5) >>> 0;
        let t = state;
        t = Math.imul(t ^ (t >>> 15), t | 1);
        t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
        return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
    };
}

export function strings(count, seed) {
    const next = random(seed);
    const below = (n) => Math.floor(next() * n);
    const one = (items) => items[below(items.length)];
    const chance = (p) => next() < p;
    const pad = (n, width) => String(n).padStart(width, '0');

    const year = () =>
        chance(0.75) ? pad(1800 + below(220), 4)
        : chance(0.5) ? pad(below(10000), 4)
        : one(['0000', '0001', '0004', '0099', '0100', '0400', '1900', '2000', '9999']);
    const signed = () => (chance(0.06) ? '-' : '') + year();
    // Mostly what exists, now and then what does not.
    const month = () => (chance(0.96) ? pad(1 + below(12), 2) : pad(below(100), 2));
    const day = () => (chance(0.9) ? pad(1 + below(29), 2) : pad(below(34), 2));
    const mark = () => one(['?', '~', '%']);
    const maybe = (p) => (chance(p) ? mark() : '');
    const masked = (digits, p) => [...digits].map((d) => (chance(p) ? 'X' : d)).join('');

    const plain = () => {
        const precision = below(3);
        return signed() + (precision > 0 ? '-' + month() : '') + (precision > 1 ? '-' + day() : '');
    };
    const whole = () => plain() + maybe(0.4);
    const parts = () => {
        const precision = below(3);
        return maybe(0.3) + signed() + maybe(0.3)
            + (precision > 0 ? '-' + maybe(0.3) + month() + maybe(0.3) : '')
            + (precision > 1 ? '-' + maybe(0.3) + day() + maybe(0.3) : '');
    };
    const unspecified = () => someDigits() + maybe(0.1);
    const someDigits = () => {
        const y = signed(), m = pad(1 + below(12), 2), d = pad(1 + below(31), 2);
        switch (below(9)) {
            case 0: return y.slice(0, -1) + 'X';
            case 1: return y.slice(0, -2) + 'XX';
            case 2: return `${y}-XX`;
            case 3: return `${y}-${m}-XX`;
            case 4: return `${y}-XX-XX`;
            case 5: return masked(y, 0.3) + '-' + masked(m, 0.3);
            case 6: return masked(y, 0.4);
            case 7: return `${masked(y, 0.3)}-${one(['02-29', 'X2-29', '02-2X', '02-XX', `${m}-X0`, `${m}-3X`])}`;
            default: return masked(y, 0.25) + '-' + masked(m, 0.25) + '-' + masked(d, 0.25);
        }
    };
    const season = () => `${signed()}-${20 + below(24)}`;
    const long = () =>
        `Y${chance(0.3) ? '-' : ''}${chance(0.6) ? 10000 + below(90000) : 1 + below(999)}${chance(0.4) ? 'E' + below(12) : ''}`;
    const significant = () => `${chance(0.6) ? signed() : long()}S${below(8)}`;
    const time = () =>
        chance(0.1) ? `${plain()}T24:00${chance(0.5) ? ':00' : ''}`
        : `${plain()}T${pad(below(26), 2)}:${pad(below(62), 2)}${chance(0.9) ? ':' + pad(below(62), 2) : ''}`
        + (chance(0.1) ? '.' + below(1000) : '')
        + (chance(0.3) ? 'Z' : chance(0.4) ? one(['+', '-']) + pad(below(16), 2) + (chance(0.5) ? ':' + pad(below(62), 2) : '') : '');
    const end = () => one([plain, plain, whole, whole, parts, unspecified, chance(0.1) ? long : chance(0.1) ? time : plain])();
    const interval = () => {
        const from = chance(0.15) ? one(['', '..']) : end(), to = chance(0.15) ? one(['', '..']) : end();
        // Most pairs are put in order, so that most of them are intervals.
        return (chance(0.8) && from > to && from[0] !== '.' && to !== '' && to[0] !== '.' ? [to, from] : [from, to]).join('/');
    };
    const range = () => {
        const precision = below(3), at = 1700 + below(250);
        const date = (y) => y + (precision > 0 ? '-' + pad(1 + below(12), 2) : '') + (precision > 1 ? '-' + pad(1 + below(28), 2) : '');
        return `${date(at)}..${date(at + below(9))}`;
    };
    const set = () => {
        const members = Array.from({ length: 1 + below(4) }, () => one([plain, plain, whole, parts, unspecified, range])());
        if (chance(0.8)) members.sort();
        if (chance(0.12)) members[0] = '..' + members[0];
        if (chance(0.12)) members[members.length - 1] += '..';
        const inner = members.join(chance(0.85) ? ',' : ', ');
        return chance(0.5) ? `[${inner}]` : `{${inner}}`;
    };
    const spoilt = (text) => {
        const at = below(text.length + 1), c = one([...'0123456789XYES?~%-/.:[]{},T+x ']);
        switch (below(4)) {
            case 0: return text.slice(0, at) + c + text.slice(at);
            case 1: return text.slice(0, at) + text.slice(at + 1);
            case 2: return text.slice(0, at) + c + text.slice(at + 1);
            default: return text.slice(0, at) + text.slice(at, at + 2).split('').reverse().join('') + text.slice(at + 2);
        }
    };
    const kinds = [plain, whole, whole, parts, parts, unspecified, unspecified, unspecified, season, long, significant, time,
                   interval, interval, interval, interval, set, set, set];
    const found = new Set();
    while (found.size < count) {
        const text = one(kinds)();
        found.add(chance(0.2) ? spoilt(text) : text);
    }
    return [...found];
}
