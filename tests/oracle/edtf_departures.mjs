// SPDX-License-Identifier: Apache-2.0
// Where npm edtf 4.11.1 departs from the specification (Library of Congress, 4 February 2019; ISO 8601-2:2019).
// Each departure is a predicate with a name and a reason. Nothing is merely excused: for a text on which one of them
// holds, expected() works out the right answer by another route - filling in every unspecified digit, exact integers,
// a set or an interval by its members - and ours must equal that.

const kInvalid = { valid: false };
const days = (earliest, latest) => ({ valid: true, earliest, latest });
const pad = (n) => String(n).padStart(2, '0');
const leap = (year) => year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
const daysIn = (year, month) => [31, leap(year) ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1];
const bare = (text) => text.replace(/[?~%]/g, '');
const kDate = /^(-?)([\dX]{4})(?:-([\dX]{2})(?:-([\dX]{2}))?)?$/;  // without marks

// A day as a list of numbers, which can be put in order.
const parts = (day) => day && /^(-?\d+)-(\d\d)-(\d\d)$/.exec(day).slice(1).map(BigInt);
const order = (a, b) => {
    for (let i = 0; i < 3; ++i) if (a[i] !== b[i]) return a[i] < b[i] ? -1 : 1;
    return 0;
};
const before = (a, b) => order(parts(a), parts(b)) < 0;
const least = (all) => all.reduce((a, b) => (before(b, a) ? b : a));
const greatest = (all) => all.reduce((a, b) => (before(a, b) ? b : a));

// Tries every year, month and day that the digits allow.
function byTryingAll(text) {
    const found = kDate.exec(bare(text));
    if (!found) return kInvalid;
    const [, sign, year, month, day] = found;
    const fits = (mask, number) => [...mask].every((c, i) => c === 'X' || c === String(number).padStart(mask.length, '0')[i]);
    let first = null, last = null;
    for (let y = 0; y <= 9999; ++y) {
        if (!fits(year, y) || (sign && y === 0)) continue;
        const signed = sign ? -y : y;
        const ofYear = [];
        for (let m = 1; m <= 12; ++m) {
            if (month && !fits(month, m)) continue;
            for (let d = 1; d <= daysIn(signed, m); ++d) if (!day || fits(day, d)) ofYear.push(`${signed}-${pad(m)}-${pad(d)}`);
        }
        if (!ofYear.length) continue;
        const [a, b] = [ofYear[0], ofYear.at(-1)];
        if (first === null || before(a, first)) first = a;
        if (last === null || before(last, b)) last = b;
    }
    return first === null ? kInvalid : days(first, last);
}

const kLongOrSignificant = /^(?:Y(-?)(\d+)(?:E(\d+))?|(-?)(\d{4}))(?:S([1-9]\d*))?$/;

// In integers of any size.
function byExactYears(text) {
    const [, longSign, mantissa, exponent, sign, short, significant] = kLongOrSignificant.exec(text);
    const size = BigInt(mantissa ?? short) * 10n ** BigInt(exponent ?? 0);
    let [first, last] = [size, size];
    const unknown = significant ? String(size).length - Number(significant) : 0;
    if (unknown > 0) {
        const step = 10n ** BigInt(unknown);
        first = size - (size % step);
        last = first + step - 1n;
    }
    if (last > 2n ** 63n - 1n) return kInvalid;
    if (longSign || sign) {
        if (size === 0n) return kInvalid;
        [first, last] = [-last, -first];
    }
    return days(`${first}-01-01`, `${last}-12-31`);
}

const kSeasonMonths = { 33: [1, 3], 34: [4, 6], 35: [7, 9], 36: [10, 12], 37: [1, 4], 38: [5, 8], 39: [9, 12], 40: [1, 6], 41: [7, 12] };

function byMonthsOfSeason(text) {
    const [, year, code] = /^(-?\d{4})-(\d\d)$/.exec(text);
    const months = kSeasonMonths[code];
    if (!months) return days(null, null);
    return days(`${Number(year)}-${pad(months[0])}-01`, `${Number(year)}-${pad(months[1])}-${daysIn(Number(year), months[1])}`);
}

const isSingle = (text) => !/[[\]{},/]/.test(text);
const fields = (text) => kDate.exec(bare(text)) ?? [];
const masked = (text) => isSingle(text) && /X/.test(text) && kDate.test(bare(text));

// Departures of single dates: [name, does it hold, the right answer].
const single = [
    // 85 is a century and 198 a decade in ISO 8601-1; the specification has neither.
    ['a century or a decade in digits', (t) => /^-?\d{2,3}[?~%]?$/.test(t), () => kInvalid],
    // Taken for milliseconds since 1970; not a date in any level.
    ['five digits or more alone', (t) => /^\d{5,}$/.test(t), () => kInvalid],
    // Seasons are given the months of quarters. The standard gives them none, not even with a hemisphere (25 to 32).
    ['a season has no months', (t) => /^-?\d{4}-(2[1-9]|3[0-2])$/.test(t), byMonthsOfSeason],
    // 37 and 38 end in April and August; it says May and September.
    ['the first two thirds of a year', (t) => /^-?\d{4}-3[78]$/.test(t), byMonthsOfSeason],
    // The end of a quarter, third or half loses the minus of its year.
    ['a part of a negative year', (t) => /^-\d{4}-(3[3-9]|4[01])$/.test(t), byMonthsOfSeason],
    // 1950S2 is some year from 1900 to 1999; it says 1950.
    ['significant digits', (t) => isSingle(t) && /S/.test(t) && kLongOrSignificant.test(t), byExactYears],
    // Its dates end in the year 275760.
    ['a year beyond its calendar', (t) => /^Y/.test(t) && kLongOrSignificant.test(t), byExactYears],
    // 1985-04-12T23:20:30-04 is turned into UTC, which is the 13th. The day as written counts.
    ['a time with an offset', (t) => /T.*[+-]\d\d(:?\d\d)?$/.test(t) && isSingle(t), (t) => days(...wholeDay(t))],
    // 24:00 is the end of the day as written; it says the next day.
    ['the hour 24', (t) => /^-?\d{4}-\d\d-\d\dT24:00/.test(t), (t) => days(...wholeDay(t))],
    // 2001-02-29 becomes 1 March. With a time of day as well.
    ['29 February in a common year', (t) => {
        const [, sign, year, month, day] = fields(t.replace(/T.*/, ''));
        return /^\d{4}$/.test(year) && month === '02' && day === '29' && !leap(Number(sign + year));
    }, () => kInvalid],
    // Reckoned in 1900, which was no leap year; the year 0 is one.
    ['February of the year 0', (t) => /^[0X]{4}-[0X][2X]/.test(bare(t)), byTryingAll],
    // 193X-02-29 begins in 1932 and ends in 1936; 19X1-02-29 does not exist. It takes 1930 and 1939.
    ['29 February with an unspecified year', (t) => masked(t) && /X.*-[0X]2-[2X]9$/.test(bare(t)), byTryingAll],
    // There it takes the last filling for the first, forgets the sign of -0XXX, or both.
    ['unspecified digits in a negative year', (t) => masked(t) && /^-/.test(bare(t)), byTryingAll],
    // X3 is March, X0 October; it knows X0 to X2 only, and takes X0 for January.
    ['an unspecified tens digit of a month', (t) => masked(t) && /^X\d$/.test(fields(t)[3]), byTryingAll],
    // X0 is the 10th at the earliest; it says the 1st.
    ['the day X0', (t) => masked(t) && fields(t)[4] === 'X0', byTryingAll],
    // 3X in April is the 30th; it knows 3X in months of 31 days only.
    ['the day 3X', (t) => masked(t) && fields(t)[4] === '3X', byTryingAll],
    // 2004-0X-31: the first such day is in January, the last in August; it takes September and runs over.
    ['a day that not every month has', (t) => masked(t) && /X/.test(fields(t)[3]) && /^(29|[3X][01X])$/.test(fields(t)[4]), byTryingAll],
    // 193X~ is "about the 1930s": marks apply to a date with unspecified digits as to any other.
    ['a mark on unspecified digits', (t) => masked(t) && /[?~%]/.test(t), byTryingAll],
    // ?1985~ is uncertain by its left mark and approximate by its right one, as ?1985~-04 is.
    ['a year alone marked on both sides', (t) => /^[?~%]-?\d{4}[?~%]$/.test(t), byTryingAll],
];

function wholeDay(text) {
    const day = text.replace(/T.*/, '').replace(/^(-?)0*(?=\d)/, '$1');
    return [day, day];
}

const isSet = (text) => /^[[{].*[\]}]$/.test(text);
const isInterval = (text) => text.split('/').length === 2 && !isSet(text);
const ends = (text) => text.split('/');
const members = (text) => text.slice(1, -1).split(/ *, */);
const level2 = (end) => /X/.test(end) || (/[?~%]/.test(end) && !/^[^?~%]*[?~%]$/.test(end));
const yearMarkedRight = (text) => /^[?~%]?-?\d{4}[?~%]$/.test(text);

const composite = [
    // These say nothing at all; it accepts them.
    ['an interval with no date at either end', (t) => /^(\.\.)?\/(\.\.)?$/.test(t)],
    // Level 0 excludes the time of day from intervals.
    ['a time of day in an interval', (t) => isInterval(t) && /T/.test(t)],
    // 1935-06/193X ends in 1939 at the latest; it compares the first days only, and refuses 1934/1934.
    ['an interval whose ends begin in the wrong order', (t, days) => isInterval(t) && ends(t).every((e) => days(e).earliest)
        && !before(days(ends(t)[0]).earliest, days(ends(t)[1]).earliest)],
    // 1984~ may stand beside 2004-06-XX, and within a set, as 2004-06~ may; its grammar has no rule for it.
    ['a year marked on its right beside a level 2 date', (t) => isInterval(t) && ends(t).some(yearMarkedRight) && ends(t).some(level2)],
    ['a year marked on its right in a set', (t) => isSet(t) && members(t).some((m) => yearMarkedRight(m.replace(/^\.\.|\.\.$/g, '')))],
    // Y12345 is a date like any other.
    ['a long year in an interval or a set', (t) => (isInterval(t) || isSet(t)) && /Y/.test(t)],
    // [1667,1668,1670..1672] ends in 1672; it says 1670.
    ['a set with a range', (t) => isSet(t) && /\d\.\.-?\d/.test(t)],
    // The outermost days count, in whichever order the members stand; it looks at the first and the last one.
    ['a set that is not in order', (t, days) => isSet(t) && members(t).some((m, i, all) => i > 0
        && (before(days(m).earliest ?? '0-01-01', days(all[i - 1]).earliest ?? '0-01-01')
            || before(days(m).latest ?? '0-01-01', days(all[i - 1]).latest ?? '0-01-01')))],
    // ..1984.. and ..1984..1986 contradict themselves.
    ['a member open on one side and bounded on the other', (t) => isSet(t) && members(t).some((m) => /^\.\..*\.\./.test(m) || /\.\..+\.\.$/.test(m))],
];

// The right answer, given a function that asks npm for a single date.
function answer(text, ask) {
    if (isSet(text)) {
        const all = members(text);
        const found = all.map((m, i) => member(m, i === 0, i + 1 === all.length, ask));
        if (found.some((f) => !f.valid)) return kInvalid;
        return days(found.some((f) => f.earliest === null) ? null : least(found.map((f) => f.earliest)),
                    found.some((f) => f.latest === null) ? null : greatest(found.map((f) => f.latest)));
    }
    if (isInterval(text)) {
        const [from, to] = ends(text);
        const found = [from, to].map((e) => (e === '' || e === '..' ? days(null, null) : plainDate(e, ask)));
        if (found.some((f) => !f.valid) || (!found[0].earliest && !found[1].latest)) return kInvalid;
        if (found[0].earliest && found[1].latest && before(found[1].latest, found[0].earliest)) return kInvalid;
        return days(found[0].earliest, found[1].latest);
    }
    const departure = single.find(([, holds]) => holds(text));
    return departure ? departure[2](text) : ask(text);
}

// A date that may stand in an interval or a set: no season, time of day or significant digits.
function plainDate(text, ask) {
    if (!/^[?~%]?(-?[\dX]{4}|Y-?\d+(E\d+)?)/.test(text) || /[TS]/.test(text) || /^-?\d{4}-[234]\d[?~%]?$/.test(text)) return kInvalid;
    const at = answer(text, ask);
    return at.valid ? at : kInvalid;
}

function member(text, first, last, ask) {
    const [, earlier, from, , to, later] = /^(\.\.)?([^.]+)((?:\.\.)([^.]+))?(\.\.)?$/.exec(text) ?? [];
    if (!from || (earlier && !first) || (later && !last) || [earlier, later, to].filter(Boolean).length > 1) return kInvalid;
    const a = plainDate(from, ask), b = to ? plainDate(to, ask) : a;
    if (!a.valid || !b.valid) return kInvalid;
    if (to && (/[X?~%]/.test(text) || from.replace(/^-/, '').split('-').length !== to.replace(/^-/, '').split('-').length)) return kInvalid;
    if (to && before(b.latest, a.earliest)) return kInvalid;
    return days(earlier ? null : a.earliest, later ? null : b.latest);
}

export const names = [...single, ...composite].map(([name]) => name);

// Which departures a text meets, and what is right; ask(text) gives npm's own answer for a single date.
export function expected(text, ask) {
    const inner = isSet(text) ? members(text).flatMap((m) => m.split('..')).filter(Boolean) : isInterval(text) ? ends(text).filter((e) => e && e !== '..') : [text];
    const daysOf = (part) => (isSet(text) ? member(part, true, true, ask) : part === '' || part === '..' ? days(null, null) : answer(part, ask));
    const met = [
        ...single.filter(([, holds]) => inner.some((part) => holds(part))).map(([name]) => name),
        ...composite.filter(([, holds]) => holds(text, daysOf)).map(([name]) => name),
    ];
    return { met, answer: met.length ? answer(text, ask) : null };
}
