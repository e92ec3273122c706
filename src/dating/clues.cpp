// SPDX-License-Identifier: Apache-2.0
#include "dating/clues.h"

#include <fmt/format.h>
#include <re2/re2.h>

#include <algorithm>
#include <cctype>
#include <map>
#include <set>

#include "base/json.h"
#include "base/text.h"
#include "dating/phrase.h"
#include "dating/series.h"

namespace footring::dating {

namespace {

constexpr int kEarliest = 1600, kLatest = 2100;  // years over which clues are combined; the ends stand for no limit

struct Match {
    std::size_t first, last;  // letters, both included
    double cost;
    std::size_t length;  // letters of the phrase
};

std::size_t character_at(std::string_view text, std::size_t byte) {
    return static_cast<std::size_t>(std::ranges::count_if(
        text.substr(0, byte), [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; }));
}

// Phrases as find_phrase() wants them.
struct Phrases {
    std::vector<std::string> is, unlike;
    Phrases() = default;
    Phrases(const std::vector<std::string>& wording, const std::vector<std::string>& not_it) {
        for (const std::string& phrase : wording) is.push_back(folded(phrase));
        for (const std::string& phrase : not_it) unlike.push_back(folded(phrase));
    }
};

}  // namespace

struct ClueFinder::Ready {
    const book::Book& book;
    std::vector<Phrases> clues, series, marks;
    std::vector<std::unique_ptr<const RE2>> patterns;  // by clue; null: none

    explicit Ready(const book::Book& b) : book(b) {
        RE2::Options quiet;
        quiet.set_log_errors(false);
        quiet.set_never_capture(true);  // where the whole of it stands is enough
        for (const book::Clue& row : b.clues) {
            clues.emplace_back(row.wording, row.unlike);
            patterns.push_back(row.pattern.empty() ? nullptr : std::make_unique<const RE2>(row.pattern, quiet));
        }
        for (const book::NumberSeries& row : b.number_series) series.emplace_back(row.wording, row.unlike);
        for (const book::Mark& row : b.marks)
            marks.emplace_back(std::vector{row.wording}, std::vector<std::string>{});
    }
};

namespace {

struct Finder {
    const book::Book& book;
    const std::vector<Phrases>&clue_phrases, &series_phrases, &mark_phrases;
    const std::vector<std::unique_ptr<const RE2>>& patterns;
    std::string_view text;
    const Settings& settings;
    std::vector<Letter> letters;
    std::vector<FoundClue> found;

    TextSpan span(std::size_t first, std::size_t last) const { return {letters[first].at, letters[last].at + 1}; }
    std::string words(std::size_t first_byte, std::size_t end_byte) const {
        std::string out;
        for (const char c : text.substr(first_byte, end_byte - first_byte))
            if (c != '\n' && c != '\r' && c != '\t') out += c;
            else if (!out.empty() && out.back() != ' ') out += ' ';
        return out;
    }
    std::string words(const Match& m) const { return words(letters[m.first].byte, byte_behind(m.last)); }
    std::size_t byte_behind(std::size_t letter) const {
        std::size_t byte = letters[letter].byte + 1;
        while (byte < text.size() && (static_cast<unsigned char>(text[byte]) & 0xC0u) == 0x80u) ++byte;
        return byte;
    }

    // Matches of any of the phrases that touch none of `unlike`; of overlapping ones the longest, then the nearest.
    std::vector<Match> matches(const Phrases& phrases) const {
        std::vector<Match> all, out;
        for (const std::string& phrase : phrases.is)
            for (const PhraseMatch& m : find_phrase(letters, phrase, allowed_cost(phrase.size())))
                all.push_back({m.first, m.last, m.cost, phrase.size()});
        if (all.empty()) return out;
        std::ranges::sort(all, [](const Match& a, const Match& b) {
            const double keep_a = static_cast<double>(a.length) - a.cost,
                         keep_b = static_cast<double>(b.length) - b.cost;
            return std::tie(keep_b, a.first) < std::tie(keep_a, b.first);
        });
        std::vector<PhraseMatch> not_it;
        for (const std::string& phrase : phrases.unlike)
            for (const PhraseMatch& m : find_phrase(letters, phrase, 0)) not_it.push_back(m);
        const auto overlap = [](const auto& a, const auto& b) { return a.first <= b.last && b.first <= a.last; };
        for (const Match& m : all)
            if (std::ranges::none_of(out, [&](const Match& o) { return overlap(m, o); }) &&
                std::ranges::none_of(not_it, [&](const PhraseMatch& o) { return overlap(m, o); }))
                out.push_back(m);
        return out;
    }

    template <class T>
    FoundClue about(const T& row, TextSpan where, double likeness) const {
        FoundClue out;
        out.clue = row.id;
        out.span = where;
        out.likeness = likeness;
        out.sources = row.sources;
        out.row = fmt::format("{}.csv:{}", book::Book::table_name<T>(), row.origin.line);
        for (const auto source : row.sources)
            if (const auto trust = book[source].trust) out.trust = std::min(out.trust.value_or(1), *trust);
        return out;
    }
    static double likeness(const Match& m) { return 1 - m.cost / static_cast<double>(m.length); }

    void clues() {
        for (std::uint32_t at = 0; at < book.clues.size(); ++at) {
            const book::Clue& row = book.clues[at];
            const auto add = [&](TextSpan where, double alike, std::string as_read) {
                FoundClue one = about(row, where, alike);
                one.clue = book::id_of(book, book::Ref<book::Clue>{at});
                one.kind = row.kind.empty() ? "practice" : row.kind;
                one.name = row.name;
                one.text = std::move(as_read);
                if (row.years) one.years = row.years->text();
                if (row.rarely) one.rarely = row.rarely->text();
                one.jurisdiction = row.jurisdiction;
                one.rule = row.rule;
                one.note = row.note;
                one.verified = row.verified;
                found.push_back(std::move(one));
            };
            for (const Match& m : matches(clue_phrases[at])) add(span(m.first, m.last), likeness(m), words(m));
            if (patterns[at] == nullptr) continue;
            const RE2& pattern = *patterns[at];
            re2::StringPiece all(text.data(), text.size()), part;
            std::size_t from = 0;
            while (pattern.ok() && from <= text.size() &&
                   pattern.Match(all, from, text.size(), RE2::UNANCHORED, &part, 1)) {
                const auto begin = static_cast<std::size_t>(part.data() - text.data());
                if (part.size() > 0)
                    add({character_at(text, begin), character_at(text, begin + part.size())}, 1,
                        words(begin, begin + part.size()));
                from = begin + std::max<std::size_t>(part.size(), 1);
            }
        }
    }

    void marks() {
        for (std::uint32_t at = 0; at < book.marks.size(); ++at) {
            const book::Mark& row = book.marks[at];
            if (mark_phrases[at].is.front().size() < 3) continue;  // initials stand everywhere
            for (const Match& m : matches(mark_phrases[at])) {
                FoundClue one = about(row, span(m.first, m.last), likeness(m));
                one.clue = book::id_of(book, book::Ref<book::Mark>{at});
                one.kind = "mark";
                one.name = row.wording;
                one.text = words(m);
                if (row.years) one.years = row.years->text();
                one.verified = row.sources.empty() ? book::Verified::kNo : book::Verified::kYes;
                one.rule = "A mark of the open packs.";
                found.push_back(std::move(one));
            }
        }
    }

    // "36s", standing alone: a size, which tells no year.
    void counts() {
        const std::string here = lower(text);
        for (std::uint32_t at = 0; at < book.trade_counts.size(); ++at) {
            const book::TradeCount& row = book.trade_counts[at];
            const std::string name = row.name.empty() ? fmt::format("{}s", row.count) : row.name;
            const std::string wanted = lower(name);
            const auto joins = [&](std::size_t byte) {
                return byte < here.size() &&
                       (std::isalnum(static_cast<unsigned char>(here[byte])) != 0 || here[byte] == '\'');
            };
            for (std::size_t from = here.find(wanted); from != here.npos; from = here.find(wanted, from + 1)) {
                const std::size_t end = from + wanted.size();
                if ((from > 0 && joins(from - 1)) || joins(end)) continue;
                FoundClue one = about(row, {character_at(text, from), character_at(text, end)}, 1);
                one.clue = book::id_of(book, book::Ref<book::TradeCount>{at});
                one.kind = "count";
                one.name = fmt::format("Potters' count {}", name);
                one.text = std::string(text.substr(from, wanted.size()));
                one.rule = fmt::format("A trade size: {} to the potter's dozen{}{}.", row.count,
                                       row.pints ? fmt::format(", about {:.2g} pints", *row.pints) : "",
                                       row.height_mm ? fmt::format(", about {:g} mm high", *row.height_mm) : "");
                one.note = row.note;
                one.verified = row.verified;
                found.push_back(std::move(one));
            }
        }
    }

    struct ReadNumber {
        std::int64_t value = 0;
        char letter = 0;           // that stands right before it, 0: none
        std::size_t begin, end;    // bytes
        bool said_number = false;  // "No" or the like stands before it
        bool grouped = false;      // 118,763
    };
    static int digit_of(char c) {
        switch (c) {
            case 'O':
            case 'o':
                return 0;
            case 'I':
            case 'l':
            case '|':
                return 1;
            case 'S':
                return 5;
            case 'B':
                return 8;
            default:
                return c >= '0' && c <= '9' ? c - '0' : -1;
        }
    }
    // A run of figures (some of them read as letters), with commas, full stops or spaces before each group of
    // three.
    std::optional<ReadNumber> number_behind(std::size_t byte) const {
        ReadNumber out;
        const auto in = [&](std::size_t at) { return at < text.size() ? text[at] : '\0'; };
        const auto is_letter = [&](std::size_t at) {
            return (in(at) >= 'A' && in(at) <= 'Z') || (in(at) >= 'a' && in(at) <= 'z');
        };
        std::size_t at = byte, skipped = 0;
        const auto skip_signs = [&] {
            while (at < text.size() && !is_letter(at) && !(in(at) >= '0' && in(at) <= '9') && skipped < 8)
                ++at, ++skipped;
        };
        skip_signs();
        for (const std::string_view word : {"numbers", "number", "nos", "no", "nr", "n"})
            if (lower(text.substr(at, word.size())) == word &&
                (!is_letter(at + word.size()) || digit_of(in(at + word.size())) == 0)) {
                if (!is_letter(at + word.size())) at += word.size(), out.said_number = true, skip_signs();
                break;
            }
        if (is_letter(at) && (in(at + 1) >= '0' && in(at + 1) <= '9') && digit_of(in(at)) < 0)
            out.letter = lower(text.substr(at++, 1))[0];
        else if (is_letter(at) && in(at + 1) == '-' && in(at + 2) >= '0' && in(at + 2) <= '9')
            out.letter = lower(text.substr(at, 1))[0], at += 2;
        out.begin = at;
        std::string figures;
        int real = 0;
        const auto run = [&](std::size_t from) {
            std::size_t to = from;
            while (digit_of(in(to)) >= 0) ++to;
            return is_letter(to) ? from : to;  // figures that go over into a word are no number
        };
        const auto take = [&](std::size_t to) {
            for (; at < to; ++at) {
                figures += static_cast<char>('0' + digit_of(in(at)));
                real += in(at) >= '0' && in(at) <= '9';
            }
        };
        take(run(at));
        out.end = at;
        while (!figures.empty() && figures.size() <= 9 && (figures.size() <= 3 || out.grouped)) {
            std::size_t next = at;
            if (in(next) == ',' || in(next) == '.') ++next;
            if (in(next) == ' ') ++next;
            const std::size_t to = next > at ? run(next) : next;
            if (to - next != 3) break;
            at = next;
            take(to);
            out.grouped = true;
            out.end = at;
        }
        if (figures.empty() || figures.size() > 9 || real * 2 < static_cast<int>(figures.size()))
            return std::nullopt;
        out.value = std::stoll(figures);
        return out.value > 0 ? std::optional(out) : std::nullopt;
    }

    void numbers() {
        struct Candidate {
            book::Ref<book::NumberSeries> series;
            Match intro;
            ReadNumber number;
        };
        std::map<std::size_t, std::vector<Candidate>> by_place;  // by where the number begins
        for (std::uint32_t at = 0; at < book.number_series.size(); ++at)
            for (const Match& m : matches(series_phrases[at]))
                if (const auto number = number_behind(byte_behind(m.last))) {
                    const std::string intro = lower(words(m));
                    const bool said =
                        number->said_number || intro.find("no") != intro.npos || intro.find("num") != intro.npos;
                    // Patent 1890 is a date, not a number.
                    if (!said && !number->grouped && number->value >= 1700 && number->value <= 2100) continue;
                    by_place[number->begin].push_back({{at}, m, *number});
                }
        for (auto& [place, candidates] : by_place) {
            const char letter = candidates.front().number.letter;
            const auto bears = [&](book::Ref<book::NumberSeries> series) {
                return letter != 0 && lower(book[series].letter) == std::string(1, letter);
            };
            if (letter != 0 &&
                std::ranges::none_of(candidates, [&](const Candidate& c) { return bears(c.series); })) {
                // "Pat. D118,763": the letter leads to the sister series of the same office.
                const Candidate intro = candidates.front();
                candidates.clear();
                for (std::uint32_t at = 0; at < book.number_series.size(); ++at)
                    if (bears({at}) && book.number_series[at].jurisdiction == book[intro.series].jurisdiction)
                        candidates.push_back({{at}, intro.intro, intro.number});
            }
            std::size_t longest = 0;
            for (const Candidate& c : candidates) longest = std::max(longest, c.intro.last - c.intro.first);
            for (const Candidate& c : candidates)
                if (c.intro.last - c.intro.first == longest) add_number(c.series, c.intro, c.number);
        }
    }

    void add_number(book::Ref<book::NumberSeries> series, const Match& intro, const ReadNumber& number) {
        const book::NumberSeries& row = book[series];
        const NumberYears years = years_of_number(book, series, number.value, settings);
        FoundClue one = about(row, {letters[intro.first].at, character_at(text, number.end)}, likeness(intro));
        one.clue = book::id_of(book, series);
        one.kind = "number";
        one.name = row.name;
        one.text = words(letters[intro.first].byte, number.end);
        one.jurisdiction = row.jurisdiction;
        one.rule = row.rule;
        one.note = row.note;
        one.verified = years.leaned.empty() ? book::Verified::kNo : years.verified;
        SeriesReading reading{number.value, ""};
        if (years.before)
            reading.given = fmt::format("../{}", edtf::from_years(*years.before - 1, *years.before - 1));
        else if (!years.years.empty()) {
            const std::string first = edtf::from_years(years.years.front(), years.years.front());
            one.years = first + "/..";
            reading.given =
                years.or_later ? first + "/.." : edtf::from_years(years.years.front(), years.years.back());
        }
        for (const std::uint32_t leaned : years.leaned) {
            const book::SeriesNumber& boundary = book.series_numbers[leaned];
            for (const auto source : boundary.sources)
                if (std::ranges::find(one.sources, source) == one.sources.end()) one.sources.push_back(source);
        }
        one.number = std::move(reading);
        found.push_back(std::move(one));
    }

    // What lies inside a longer clue does not count beside it.
    void containment() {
        const auto size = [](const FoundClue& c) { return c.span.end - c.span.begin; };
        std::ranges::stable_sort(found, [&](const FoundClue& a, const FoundClue& b) {
            return a.span.begin != b.span.begin ? a.span.begin < b.span.begin : size(a) > size(b);
        });
        for (FoundClue& inner : found) {
            const FoundClue* holder = nullptr;
            for (const FoundClue& outer : found) {
                const bool holds = outer.span.begin <= inner.span.begin && outer.span.end >= inner.span.end;
                // A law that asks for the words and the number behind them both hold.
                if (!holds || size(outer) <= size(inner) || (outer.kind == "number" && inner.kind != "number"))
                    continue;
                if (holder == nullptr || size(outer) > size(*holder)) holder = &outer;
            }
            if (holder != nullptr) inner.within = holder->clue;
        }
    }
};

std::vector<double> weights(const FoundClue& clue, const Settings& settings) {
    return clue_agrees(clue, kEarliest, kLatest, settings);
}

double weight_of(const FoundClue& clue, const Settings& settings) {
    double out = clue.trust.value_or(settings.source_trust) * clue.likeness;
    if (clue.verified == book::Verified::kNo) out *= settings.clue_unverified_trust;
    if (clue.verified == book::Verified::kPartly) out *= settings.clue_partly_trust;
    if (clue.kind == "practice") out *= settings.clue_practice_trust;
    return out;
}

// Years at which every clue weighs at least `least`, from the first to the last; empty: none.
std::string run_of(const std::vector<double>& by_year, double least) {
    std::optional<std::size_t> first, last;
    for (std::size_t i = 0; i < by_year.size(); ++i)
        if (by_year[i] > 0 && by_year[i] >= least) first = first.value_or(i), last = i;
    if (!first) return "";
    const auto year = [](std::size_t i) {
        return edtf::from_years(kEarliest + static_cast<int>(i), kEarliest + static_cast<int>(i));
    };
    const std::string from = *first == 0 ? ".." : year(*first);
    const std::string to = *last + 1 == by_year.size() ? ".." : year(*last);
    return from == to ? from : from + "/" + to;
}

void combine(ClueAnswer& answer, const Settings& settings) {
    struct Counted {
        std::string id;
        double weight;
        std::vector<double> agrees;
    };
    std::vector<Counted> counted;
    for (const FoundClue& clue : answer.clues)
        if (clue.within.empty() && !clue.years.empty())
            counted.push_back({clue.clue, clue.weight, weights(clue, settings)});
    if (counted.empty()) return;
    const auto least_of = [](const std::vector<double>& a, const std::vector<double>& b) {
        std::vector<double> out(a.size());
        std::ranges::transform(a, b, out.begin(), [](double x, double y) { return std::min(x, y); });
        return out;
    };
    const auto of_all = [&](const std::vector<Counted>& list) {
        std::vector<double> all = list.front().agrees;
        for (const Counted& one : list) all = least_of(all, one.agrees);
        answer.years = run_of(all, 0.5);
        if (!answer.years.empty()) return;
        answer.years = run_of(all, 0);
        answer.only_rarely = !answer.years.empty();
    };
    of_all(counted);
    if (!answer.years.empty()) return;
    for (std::size_t i = 0; i < counted.size() && answer.conflict.empty(); ++i)
        for (std::size_t j = i + 1; j < counted.size() && answer.conflict.empty(); ++j)
            if (run_of(least_of(counted[i].agrees, counted[j].agrees), 0).empty())
                answer.conflict = {counted[i].id, counted[j].id};
    if (answer.conflict.empty())
        for (const Counted& one : counted) answer.conflict.push_back(one.id);

    // From the weightiest on, what still leaves a year beside those that weigh more. Clues of one weight stand or
    // fall together: when they exclude each other, nothing tells which of them is wrong.
    std::ranges::stable_sort(counted, std::greater{}, &Counted::weight);
    std::vector<Counted> kept;
    for (std::size_t first = 0, last = 0; first < counted.size(); first = last) {
        while (last < counted.size() && counted[last].weight == counted[first].weight) ++last;
        std::vector<Counted> tried = kept;
        tried.insert(tried.end(), counted.begin() + static_cast<std::ptrdiff_t>(first),
                     counted.begin() + static_cast<std::ptrdiff_t>(last));
        std::vector<double> all = tried.front().agrees;
        for (const Counted& one : tried) all = least_of(all, one.agrees);
        if (!run_of(all, 0).empty()) {
            kept = std::move(tried);
            continue;
        }
        if (kept.empty()) return;
        for (std::size_t i = first; i < last; ++i) answer.set_aside.push_back(counted[i].id);
    }
    of_all(kept);
}

}  // namespace

std::vector<double> clue_agrees(const FoundClue& clue, int first_year, int last_year, const Settings& settings) {
    const auto over = [&](const std::string& period) {
        const auto parsed = edtf::parse(period);
        return parsed ? edtf::year_weights(*parsed, first_year, last_year, settings)
                      : std::vector<double>(static_cast<std::size_t>(last_year - first_year + 1), 0.0);
    };
    std::vector<double> out = over(clue.years);
    if (clue.rarely.empty()) return out;
    const std::vector<double> seldom = over(clue.rarely);
    for (std::size_t i = 0; i < out.size(); ++i) out[i] = std::max(out[i], settings.clue_rarely_weight * seldom[i]);
    return out;
}

ClueFinder::ClueFinder(const book::Book& book) : ready_(std::make_unique<const Ready>(book)) {}
ClueFinder::~ClueFinder() = default;
ClueFinder::ClueFinder(ClueFinder&&) noexcept = default;

Expected<ClueAnswer> find_clues(const book::Book& book, std::string_view text, const Settings& settings) {
    return ClueFinder(book).find(text, settings);
}

Expected<ClueAnswer> ClueFinder::find(std::string_view text, const Settings& settings) const {
    if (text.size() > kLongestText)
        return fail(ProblemCode::kTooLarge, "text", fmt::format("is longer than {} bytes", kLongestText),
                    "give the wording of one piece");
    if (!is_utf8(text)) return fail(ProblemCode::kBadInput, "text", "is not UTF-8", "save or type it as UTF-8");
    if (trim(text).empty())
        return fail(ProblemCode::kBadInput, "text", "is empty", "type what stands on the underside");
    Finder finder{ready_->book,  ready_->clues,    ready_->series,
                  ready_->marks, ready_->patterns, text,
                  settings,      letters_of(text), {}};
    finder.clues();
    finder.marks();
    finder.numbers();
    finder.counts();
    finder.containment();
    ClueAnswer answer;
    answer.clues = std::move(finder.found);
    for (FoundClue& clue : answer.clues) clue.weight = weight_of(clue, settings);
    combine(answer, settings);
    return answer;
}

nlohmann::ordered_json clues_json(const book::Book& book, const ClueAnswer& answer) {
    using Json = nlohmann::ordered_json;
    const auto text_or_null = [](const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); };
    Json out = {{"clues", json_list(answer.clues, [&](const FoundClue& c) {
                     Json one = {
                         {"clue", c.clue},
                         {"kind", c.kind},
                         {"name", c.name},
                         {"text", c.text},
                         {"span", {c.span.begin, c.span.end}},
                         {"likeness", c.likeness},
                         {"years", text_or_null(c.years)},
                         {"rarely", text_or_null(c.rarely)},
                         {"rule", c.rule},
                         {"jurisdiction", c.jurisdiction},
                         {"verified", book::name_of(c.verified)},
                         {"trust", nullptr},
                         {"weight", c.weight},
                         {"note", c.note},
                         {"sources",
                          json_list(c.sources, [&](const auto source) { return Json(book::id_of(book, source)); })},
                         {"row", c.row},
                         {"number", nullptr},
                         {"within", text_or_null(c.within)}};
                     if (c.trust) one["trust"] = *c.trust;
                     if (c.number)
                         one["number"] = {{"value", c.number->number}, {"given", text_or_null(c.number->given)}};
                     return one;
                 })}};
    out["years"] = text_or_null(answer.years);
    out["only_rarely"] = answer.only_rarely;
    out["conflict"] = answer.conflict;
    out["set_aside"] = answer.set_aside;
    return out;
}

}  // namespace footring::dating
