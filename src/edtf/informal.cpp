// SPDX-License-Identifier: Apache-2.0
// What someone probably meant who wrote a date as catalogues and letters do. Only for advice in a refusal: nothing
// here makes a text acceptable, and no advice is given that the reader would refuse in its turn.
#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>

#include "base/text.h"
#include "edtf/shape.h"

namespace footring::edtf {

namespace {

constexpr std::size_t kLongest = 80;  // bytes; longer texts are not dates that someone wrote in passing

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return c >= 'a' && c <= 'z'; }
bool all_digits(std::string_view text) { return !text.empty() && std::ranges::all_of(text, is_digit); }
int number(std::string_view digits) { return to_int(digits).value_or(-1); }

bool reads(std::string_view text) {
    Shape shape;
    return Reader(text).read(shape);
}

std::string replaced(std::string_view text, std::string_view from, std::string_view to) {
    std::string out;
    for (std::size_t at; (at = text.find(from)) != std::string_view::npos; text.remove_prefix(at + from.size()))
        out.append(text.substr(0, at)).append(to);
    return out.append(text);
}

// Typographic hyphens, quotes and blanks as their plain cousins; lower case.
std::string plain(std::string_view text) {
    std::string out = lower(trim(text));
    for (const std::string_view dash :
         {"\xE2\x80\x90", "\xE2\x80\x91", "\xE2\x80\x93", "\xE2\x80\x94", "\xE2\x88\x92"})
        out = replaced(out, dash, "-");
    out = replaced(out, "\xE2\x80\x99", "'");
    out = replaced(out, "\xC2\xA0", " ");
    return out;
}

// Slips of notation: 19xx, 20uu, 1985~~, 1985?~, (1985)?, +1985, open/1985, {1667;1668}, 1984//2004, 1985--12.
std::string tidied(std::string text) {
    text = replaced(text, "unknown", "");
    if (text.find('/') != std::string::npos)
        for (const std::string_view word : {"open", "present", "now"}) text = replaced(text, word, "..");
    for (std::size_t i = 1; i < text.size(); ++i)
        if ((text[i] == 'x' || text[i] == 'u') &&
            (is_digit(text[i - 1]) || text[i - 1] == 'X' || text[i - 1] == '-'))
            text[i] = 'X';
    if (!text.empty() && text[0] == 'y') text[0] = 'Y';
    if (!text.empty() && text[0] == '+') text.erase(0, 1);
    const bool set = !text.empty() && (text[0] == '[' || text[0] == '{');
    for (const char drop : {'(', ')', '"', '\''}) std::erase(text, drop);
    if (const std::size_t blank = text.find(' '); text.find(':') != std::string::npos && blank != std::string::npos)
        text[blank] = 'T';
    std::ranges::replace(text, 't', 'T');
    std::ranges::replace(text, 'z', 'Z');
    std::erase(text, ' ');
    for (const auto& [from, to] : {std::pair{";", ","},
                                   {"//", "/"},
                                   {"--", "-"},
                                   {"?~", "%"},
                                   {"~?", "%"},
                                   {"~~", "~"},
                                   {"\?\?", "?"},
                                   {"%%", "%"}})
        text = replaced(text, from, to);
    if (set && text.back() != ']' && text.back() != '}') text += text[0] == '[' ? ']' : '}';
    return text;
}

std::string with_marks(std::string text, Marks marks) {
    if (text.empty() || text == "..") return text;
    constexpr std::string_view kMarks = " ?~%";
    if (const std::size_t had = kMarks.find(text.back()); had != std::string_view::npos && had > 0) {
        marks |= static_cast<Marks>(had);
        text.pop_back();
    }
    if (marks != kNoMark) text += kMarks[marks];
    return text;
}

std::string onwards(const std::string& date, Marks marks) { return fmt::format("{}/..", with_marks(date, marks)); }
std::string until(const std::string& date, Marks marks) { return fmt::format("../{}", with_marks(date, marks)); }

// One date as somebody put it: a single one (first only), or a stretch such as "late 1930s".
struct Meant {
    std::string first, last;
    std::string other;  // a second reading of the same words: 4/5/1934
    const std::string& end() const { return last.empty() ? first : last; }
};

// Reads the words from left to right. Every function either takes what it understands or leaves the place as it
// was.
class Phrase {
  public:
    explicit Phrase(const std::string& text) {
        for (std::size_t i = 0; i < text.size();) {
            std::size_t end = i + 1;
            if (is_digit(text[i])) {
                while (end < text.size() && (is_digit(text[end]) || text[end] == 'x')) ++end;
            } else if (is_letter(text[i])) {
                while (end < text.size() && is_letter(text[end])) ++end;
            }
            if (text[i] != ' ') tokens_.push_back(text.substr(i, end - i));
            i = end;
        }
    }

    std::vector<std::string> read() {
        const Marks marks = qualifiers();
        if (any_of({"before", "until", "till", "by", "pre", "to"}) || words("prior", "to") || words("up", "to") ||
            words("not", "after") || words("no", "later", "than"))
            return one_sided(marks, true);
        if (any_of({"after", "since", "post", "from"}) || words("not", "before") || words("no", "earlier", "than"))
            return one_sided(marks, false);
        const bool between = any_of({"between"});
        const auto first = date();
        if (!first) return {};
        return rest(*first, marks, between);
    }

  private:
    bool done() const { return at_ == tokens_.size(); }
    std::string_view token(std::size_t ahead = 0) const {
        return at_ + ahead < tokens_.size() ? std::string_view(tokens_[at_ + ahead]) : std::string_view();
    }
    bool any_of(std::initializer_list<std::string_view> expected) {
        if (std::ranges::find(expected, token()) == expected.end() || done()) return false;
        const bool word = is_letter(token()[0]);
        ++at_;
        if (word && token() == ".") ++at_;  // of an abbreviation
        return true;
    }
    bool words(std::string_view a, std::string_view b, std::string_view c = {}) {
        if (token() != a || token(1) != b || (!c.empty() && token(2) != c)) return false;
        at_ += c.empty() ? 2 : 3;
        return true;
    }

    Marks qualifiers() {
        Marks marks = kNoMark;
        for (;;) {
            if (any_of(
                    {"c", "ca", "circa", "about", "around", "approx", "approximately", "abt", "roughly", "near"}))
                marks |= kRough;
            else if (any_of({"probably", "prob", "possibly", "poss", "perhaps", "maybe", "uncertain"}))
                marks |= kUnsure;
            else if (!any_of({"the", "in", "year", "dated", "-"})) return marks;
        }
    }

    std::optional<int> named(
        std::initializer_list<std::string_view> names) {  // by its first letters, three or more
        const std::string_view word = token();
        int index = 0;
        for (const std::string_view name : names) {
            ++index;
            if (word.size() < 3 || !name.starts_with(word == "sept" ? "september" : word)) continue;
            ++at_;
            any_of({"."});
            return index;
        }
        return std::nullopt;
    }
    std::optional<int> month() {
        return named({"january", "february", "march", "april", "may", "june", "july", "august", "september",
                      "october", "november", "december"});
    }
    std::optional<std::string> year() {
        const std::string_view digits = token();
        if (digits.size() != 4 || !is_digit(digits[0])) return std::nullopt;
        ++at_;
        std::string out(digits);
        std::ranges::replace(out, 'x', 'X');
        return out;
    }
    std::optional<int> day() {
        if (token().size() > 2 || !all_digits(token())) return std::nullopt;
        const int value = number(token());
        ++at_;
        any_of({"st", "nd", "rd", "th"});
        any_of({"of"});
        return value;
    }

    std::optional<Meant> date() {
        const std::size_t begin = at_;
        Marks marks = qualifiers();
        std::optional<Meant> meant;
        for (const auto form : {&Phrase::spelt_out, &Phrase::century, &Phrase::decade, &Phrase::library_decade,
                                &Phrase::slashed, &Phrase::numeric}) {
            const std::size_t before = at_;
            if ((meant = (this->*form)())) break;
            at_ = before;
        }
        if (!meant) {
            at_ = begin;
            return std::nullopt;
        }
        for (;;) {
            if (any_of({"?"}) || words("(", "?", ")")) marks |= kUnsure;
            else if (any_of({"~"})) marks |= kRough;
            else if (any_of({"%"})) marks |= kUnsureAndRough;
            else break;
        }
        meant->first = with_marks(meant->first, marks);
        meant->last = with_marks(meant->last, marks);
        return meant;
    }

    // June 1934, 12 June 1934, June 12th, 1934, spring 1931
    std::optional<Meant> spelt_out() {
        if (const auto season = named({"spring", "summer", "autumn", "winter", "fall"})) {
            any_of({"of"}), any_of({","});
            if (const auto y = year())
                return Meant{fmt::format("{}-{}", *y, *season == 5 ? 23 : 20 + *season), {}, {}};
            return std::nullopt;
        }
        std::optional<int> d = day();
        const auto m = month();
        if (!m) return std::nullopt;
        any_of({"of"}), any_of({","});
        if (!d && token().size() <= 2) d = day();
        any_of({","});
        const auto y = year();
        if (!y) return std::nullopt;
        return Meant{d ? fmt::format("{}-{:02}-{:02}", *y, *m, *d) : fmt::format("{}-{:02}", *y, *m), {}, {}};
    }

    enum class Part { kWhole, kEarly, kMiddle, kLate };
    Part part() {
        Part found = Part::kWhole;
        if (any_of({"early"})) found = Part::kEarly;
        else if (any_of({"mid", "middle"})) found = Part::kMiddle;
        else if (any_of({"late"})) found = Part::kLate;
        if (found != Part::kWhole) any_of({"-"}), any_of({"of"}), any_of({"the"});
        return found;
    }
    // A third of a decade or century; where the thirds meet, nobody means a sharp year.
    static Meant stretch(Part part, std::string whole, int first, int length) {
        const int a = first + length * 3 / 10, b = first + length * 4 / 10, c = first + length * 6 / 10,
                  d = first + length * 7 / 10;
        switch (part) {
            case Part::kEarly:
                return {fmt::format("{:04}", first), fmt::format("{:04}~", a), {}};
            case Part::kMiddle:
                return {fmt::format("{:04}~", b), fmt::format("{:04}~", c), {}};
            case Part::kLate:
                return {fmt::format("{:04}~", d), fmt::format("{:04}", first + length - 1), {}};
            case Part::kWhole:
                break;
        }
        return {std::move(whole), {}, {}};
    }
    std::optional<Meant> century() {  // 19th century
        const Part which = part();
        if (token().size() > 2 || !all_digits(token())) return std::nullopt;
        const int n = number(token());
        ++at_;
        if (!any_of({"st", "nd", "rd", "th"}) || !any_of({"century", "cent", "c"}) || n < 1) return std::nullopt;
        return stretch(which, fmt::format("{:02}XX", n - 1), (n - 1) * 100, 100);
    }
    std::optional<Meant> decade() {  // 1930s, 1930's, late 1930s
        const Part which = part();
        const auto y = year();
        if (!y || !all_digits(*y) || y->back() != '0') return std::nullopt;
        any_of({"'"});
        if (!any_of({"s"})) return std::nullopt;
        Meant meant = stretch(which, y->substr(0, 3) + "X", number(*y), 10);
        if (which == Part::kWhole && y->ends_with("00"))  // the decade or the century
            meant.other = y->substr(0, 2) + "XX";
        return meant;
    }
    std::optional<Meant> library_decade() {  // 193-, 193?, 19--, 19??
        const std::string digits(token());
        if (!all_digits(digits) || digits.size() < 2 || digits.size() > 3) return std::nullopt;
        ++at_;
        const std::size_t unknown = 4 - digits.size();
        const std::string_view sign = token();
        if (sign != "-" && sign != "?") return std::nullopt;
        for (std::size_t i = 0; i < unknown; ++i, ++at_)
            if (token() != sign) return std::nullopt;
        if (is_digit(token().empty() ? ' ' : token()[0])) return std::nullopt;
        return Meant{digits + std::string(unknown, 'X'), {}, {}};
    }
    std::optional<Meant> slashed() {  // 12/25/1934, 25.12.1934
        const auto a = day();
        const std::string sign(token());
        if (!a || (sign != "/" && sign != "." && sign != "-")) return std::nullopt;
        ++at_;
        const auto b = day();
        if (!b || token() != sign) return std::nullopt;
        ++at_;
        const auto y = year();
        if (!y) return std::nullopt;
        const auto as = [&](int m, int d) { return fmt::format("{}-{:02}-{:02}", *y, m, d); };
        if (*a > 12) return Meant{as(*b, *a), {}, {}};
        if (*b > 12 || *a == *b) return Meant{as(*a, *b), {}, {}};
        return Meant{as(*b, *a), {}, as(*a, *b)};
    }
    std::optional<Meant> numeric() {  // 1934, 193X, 1934-5-12, 1934-05, 19340512
        const std::string digits(token());
        if (digits.size() == 8 && all_digits(digits)) {
            ++at_;
            return Meant{
                fmt::format("{}-{}-{}", digits.substr(0, 4), digits.substr(4, 2), digits.substr(6)), {}, {}};
        }
        const auto y = year();
        if (!y) return std::nullopt;
        const auto short_number = [&](std::size_t ahead) {
            return token(ahead).size() <= 2 && all_digits(token(ahead)) ? number(token(ahead)) : -1;
        };
        if (token() != "-" || short_number(1) < 1) return Meant{*y, {}, {}};
        const int m = short_number(1);
        if (token(2) == "-" && short_number(3) >= 0) {
            const int d = short_number(3);
            at_ += 4;
            return Meant{fmt::format("{}-{:02}-{:02}", *y, m, d), {}, {}};
        }
        // 1934-05 is a month, 1910-12 after "c." more likely three years: left to the range.
        if (!all_digits(*y) || m > 12 || token(1).size() != 2 || m > number(y->substr(2))) return Meant{*y, {}, {}};
        at_ += 2;
        return Meant{fmt::format("{}-{:02}", *y, m), {}, {}};
    }

    std::vector<std::string> one_sided(Marks marks, bool before) {
        any_of({"-"});
        marks |= qualifiers();
        const auto meant = date();
        if (!meant) return {};
        if (!before && !done()) return rest(*meant, marks, true);  // from 1930 to 1940
        if (before) return {until(meant->end(), marks)};
        return {onwards(meant->first, marks)};
    }

    static std::string joined(const Meant& a, const Meant& b, Marks marks) {
        return fmt::format("{}/{}", with_marks(a.first, marks), with_marks(b.end(), marks));
    }

    // What follows the first date.
    std::vector<std::string> rest(const Meant& first, Marks marks, bool between) {
        if (done()) return alone(first, marks);
        if (any_of({"+", "onward", "onwards", "on"}) || words("or", "later") || words("or", "after") ||
            words("and", "later") || words("and", "after"))
            return done() ? std::vector{onwards(first.first, marks)} : std::vector<std::string>{};
        if (words("or", "earlier") || words("or", "before") || words("and", "earlier") || words("and", "before"))
            return done() ? std::vector{until(first.end(), marks)} : std::vector<std::string>{};
        const bool hyphen = token() == "-" || token() == "/";
        if (hyphen || token() == "to" || token() == "until" || token() == "till" || token() == "through" ||
            (between && (token() == "and" || token() == "&"))) {
            while (any_of({"-", "/", "to", "until", "till", "through", "and", "&"})) {
            }
            if (done()) return hyphen ? std::vector{onwards(first.first, marks)} : std::vector<std::string>{};
            if (any_of({"present", "now", "today"})) return {onwards(first.first, marks)};
            return range(first, marks, hyphen);
        }
        return choice(first, marks);
    }

    std::vector<std::string> alone(const Meant& meant, Marks marks) {
        if (!meant.last.empty()) return {joined(meant, meant, marks)};
        std::vector<std::string> found{with_marks(meant.first, marks)};
        if (!meant.other.empty()) found.push_back(with_marks(meant.other, marks));
        return found;
    }

    std::vector<std::string> range(const Meant& first, Marks marks, bool hyphen) {
        std::vector<std::string> found;
        const std::string digits(token());
        if (all_digits(digits) && digits.size() <= 2 && first.first.size() == 4 && all_digits(first.first)) {
            // 1930-35, 1930-5: the end is shortened, or a single digit is meant as a month.
            ++at_;
            marks |= any_of({"?"}) ? kUnsure : kNoMark;
            const std::string end = first.first.substr(0, 4 - digits.size()) + digits;
            if (hyphen && digits.size() == 1) found.push_back(fmt::format("{}-{:02}", first.first, number(digits)));
            if (end > first.first) found.push_back(joined(first, {end, {}, {}}, marks));
        } else if (const auto last = date()) {
            found.push_back(joined(first, *last, marks));
        }
        return done() ? found : std::vector<std::string>{};
    }

    // 1930 or 1931; 1930, 1931 and 1935
    std::vector<std::string> choice(const Meant& first, Marks marks) {
        std::string list = with_marks(first.first, marks);
        bool all = false;
        while (!done()) {
            bool separated = any_of({",", ";"});
            if (any_of({"or"})) separated = true;
            if (any_of({"and", "&"})) separated = all = true;
            const auto next = separated ? date() : std::nullopt;
            if (!next || !next->last.empty()) return {};
            list += fmt::format(",{}", with_marks(next->first, marks));
        }
        return {fmt::format("{}{}{}", all ? '{' : '[', list, all ? '}' : ']')};
    }

    std::vector<std::string> tokens_;
    std::size_t at_ = 0;
};

}  // namespace

std::vector<std::string> informal(std::string_view text) {
    if (text.size() > kLongest) return {};
    const std::string meant = plain(text);
    std::vector<std::string> found = Phrase(meant).read();
    if (std::erase_if(found, [](const std::string& candidate) { return !reads(candidate); }); found.empty()) {
        found = {tidied(meant)};
        std::erase_if(found, [](const std::string& candidate) { return !reads(candidate); });
    }
    if (found.empty() && meant.size() > 2 && (meant.front() == '[' || meant.front() == '('))  // [c. 1934]
        return informal(std::string_view(meant).substr(1, meant.find_last_not_of("])")));
    return found;
}

}  // namespace footring::edtf
