// SPDX-License-Identifier: Apache-2.0
#include "exchange/reply.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/odds.h"
#include "base/words.h"
#include "naming/apart.h"

namespace footring::exchange {

namespace {

using book::Book;

constexpr double kWorthSaying = 0.05;  // fainter candidates are not named
constexpr std::size_t kMostOthers = 3, kMostReasons = 4, kMostAsks = 3;
constexpr double kTellingBits = 0.05;  // a look that tells less is not worth a letter

// What to ask somebody for who has the piece and a telephone, but not this program.
struct Ask {
    std::string_view look, words;
};
constexpr Ask kAsks[] = {
    {"underside", "the underside, in slanting daylight, near enough that small words and numbers can be read"},
    {"mark", "the mark on the underside, near enough that its words can be read"},
    {"number", "any number on the underside, however faint, in slanting light"},
    {"rim", "the whole piece from straight above, so that the border can be counted round the rim"},
    {"verge", "the ring between rim and well, from near by"},
    {"centre", "the middle of the piece from straight above"},
    {"edge", "the very edge, from near by, to see whether a line runs along it"},
    {"handle", "a handle from the side"},
    {"lid", "the lid from above"},
    {"finial", "the knob of the lid"},
    {"body", "the side of the piece, level with it"},
    {"inside", "the inside, with the lid off"},
    {"foot", "the foot ring"},
    {"shape", "the whole piece from the side, level with it, for its outline"},
    {"glaze", "the bare glaze in daylight beside a sheet of white paper, or with the printed scale card"},
    {"faults", "any pits, specks, warping or unevenness, from near by"},
    {"wear", "the decoration from near by where it is most worn"},
    {"date_code", "any letters or figures stamped beside the mark"},
    {"length", "the piece beside a ruler, or its size measured across the widest part"},
};
std::string ask_for(const std::string& look) {
    for (const Ask& ask : kAsks)
        if (ask.look == look) return std::string(ask.words);
    return look;
}

std::string called(const Book& book, book::Ref<book::Treatment> ref) {
    const book::Treatment& row = book[ref];
    std::string out = row.number.empty() ? "" : "number " + row.number;
    if (!row.name.empty()) out += (out.empty() ? "" : ", ") + fmt::format("\"{}\"", row.name);
    if (out.empty()) out = "treatment " + book::id_of(book, ref);
    out += fmt::format(", on the shape {}", book[row.shape].name);
    if (const auto maker = maker_of(book, ref)) out += " by " + book[*maker].name;
    if (row.glaze) out += fmt::format(", in the {} glaze", book[*row.glaze].name);
    return out;
}
std::string odds(double share) { return fmt::format("{}, {}", odds_in_words(share), odds_in_figures(share)); }

class Writer {
  public:
    Writer(const Book& book, const AskedPiece& asked) : book_(book), asked_(asked), answer_(asked.answer) {}

    void name(std::vector<std::string>& out, std::string_view begin) const {
        const double open = answer_.open.unlisted + answer_.open.elsewhere;
        if (answer_.candidates.empty()) {
            out.push_back(fmt::format("{}Too little could be seen to name it.", begin));
            return;
        }
        const naming::Candidate& best = answer_.candidates.front();
        std::string text(begin);
        if (open > best.probability) {
            const bool unlisted = answer_.open.unlisted >= answer_.open.elsewhere;
            text += fmt::format("Nothing in the references that I use fits it well. It is most likely {} ({}).",
                                unlisted ? "a treatment that none of them lists"
                                         : "another maker's piece, or one decorated elsewhere",
                                odds(unlisted ? answer_.open.unlisted : answer_.open.elsewhere));
            if (best.probability >= kWorthSaying)
                text += fmt::format(" The nearest that is listed is {} ({}).", called(book_, best.treatment),
                                    odds(best.probability));
        } else {
            double together = best.probability;
            for (const naming::Candidate& other : answer_.candidates)
                if (is_twin(best, other.treatment)) together += other.probability;
            // Below this the words of the odds deny what "it is" says.
            constexpr double kSaysItIs = 0.55;
            text += fmt::format("{} {} ({}).", together >= kSaysItIs ? "It is" : "The likeliest is",
                                called(book_, best.treatment), odds(together));
            if (!best.twins.empty()) text += twins(best);
            text += others(best);
            if (open >= kWorthSaying)
                text += fmt::format(" That it is none of those listed stays possible ({}).", odds_in_figures(open));
        }
        out.push_back(std::move(text));
    }

    void grade_and_date(std::vector<std::string>& out) const {
        std::string text;
        const naming::DateAnswer& date = answer_.date;
        if (!date.by_year.empty()) {
            const auto [first, last] = date.hpd95;
            text = first == last
                       ? fmt::format("It was made in {}, in nineteen chances of twenty.", first)
                       : fmt::format(
                             "It was made between {} and {}, in nineteen chances of twenty; the middle of the "
                             "odds is {}.",
                             first, last, date.median);
        }
        const bool first = answer_.grade.first >= answer_.grade.second;
        const double share = std::max(answer_.grade.first, answer_.grade.second);
        if (share >= 0.55)
            text += fmt::format(" It is {} ({}).", first ? "first-run ware" : "second-grade ware", odds(share));
        else text += " Whether it is first-run or second-grade ware cannot be said.";
        out.push_back(std::move(text));
    }

    void reasons(std::vector<std::string>& out) const {
        std::vector<std::string> parts;
        std::set<std::string> sources;
        for (const naming::Reason& reason : answer_.reasons) {
            if (parts.size() == kMostReasons || reason.weight.value < 1) break;
            parts.push_back(
                fmt::format("{} ({})", seen(reason), reason.value == looks::kNone ? "not there" : "seen"));
            for (const naming::Support& support : reason.supports)
                for (const auto source : support.sources) {
                    const book::Source& row = book_[source];
                    sources.insert((row.creator.empty() ? "" : row.creator + ", ") + row.title +
                                   (row.date.empty() ? "" : ", " + row.date));
                }
        }
        if (parts.empty()) return;
        std::string text = fmt::format("What speaks for it most: {}.", listed(parts));
        constexpr std::size_t kMostSources = 5;
        std::vector<std::string> named(sources.begin(), sources.end());
        const std::size_t more = named.size() - std::min(named.size(), kMostSources);
        named.resize(named.size() - more);
        if (!named.empty()) {
            text += " The references behind this: ";
            for (std::size_t i = 0; i < named.size(); ++i) text += (i == 0 ? "" : "; ") + named[i];
            text += more > 0 ? fmt::format("; and {} more.", more) : ".";
        }
        out.push_back(std::move(text));
        for (const naming::Conflict& conflict : answer_.conflicts)
            out.push_back(fmt::format("Some of this cannot all be true: {}. One of them is mistaken.",
                                      listed(conflict.statements)));
    }

    std::vector<std::string> asks() const {
        std::vector<std::string> out;
        for (const naming::NextLook& look : answer_.next) {
            const bool tells = look.treatment.value + look.grade.value + look.year.value >= kTellingBits;
            // What only a laboratory or special light shows is not to be asked of a stranger.
            constexpr double kMostMinutes = 10;
            if (!tells || look.effort.value > kMostMinutes) continue;
            const std::string words = ask_for(look.look);
            const bool part_of_underside = (look.look == "mark" || look.look == "number") &&
                                           std::ranges::find(out, ask_for("underside")) != out.end();
            if (!part_of_underside && std::ranges::find(out, words) == out.end()) out.push_back(words);
            if (out.size() == kMostAsks) break;
        }
        return out;
    }

  private:
    static bool is_twin(const naming::Candidate& best, book::Ref<book::Treatment> treatment) {
        return std::ranges::find(best.twins, treatment) != best.twins.end();
    }
    std::string twins(const naming::Candidate& best) const {
        std::vector<std::string> names;
        for (const auto twin : best.twins)
            names.push_back(book_[twin].number.empty() ? book::id_of(book_, twin) : "number " + book_[twin].number);
        std::vector<book::Ref<book::Treatment>> group{best.treatment};
        group.insert(group.end(), best.twins.begin(), best.twins.end());
        std::vector<std::string> forms;
        for (const auto form : naming::apart(book_, asked_.findings.form, group).telling_forms)
            if (forms.size() < 3) forms.push_back(book_[form].name);
        std::string out = fmt::format(
            " On this form it looks exactly like {}; these odds are those of all together.", listed(names, " or "));
        if (!forms.empty())
            out += fmt::format(" Another form of the same service would tell: {}.", listed(forms, " or "));
        return out;
    }
    std::string others(const naming::Candidate& best) const {
        std::vector<std::string> parts;
        for (const naming::Candidate& other : answer_.candidates) {
            if (other.treatment == best.treatment || is_twin(best, other.treatment)) continue;
            if (other.probability < kWorthSaying || parts.size() == kMostOthers) break;
            parts.push_back(
                fmt::format("{} ({})", called(book_, other.treatment), odds_in_figures(other.probability)));
        }
        return parts.empty() ? "" : fmt::format(" It could also be {}.", listed(parts, " or "));
    }
    std::string seen(const naming::Reason& reason) const {
        const auto named = [&](const auto& table) -> std::string {
            using Row = std::remove_cvref_t<decltype(table[0])>;
            const auto found = book::find<Row>(book_, reason.value, "");
            if (!found) return reason.value;
            if constexpr (requires { table[0].wording; }) return fmt::format("\"{}\"", book_[*found].wording);
            else return book_[*found].name;
        };
        if (reason.value == looks::kNone) return "no ornament at the " + reason.look;
        if (reason.look == "shape") return "the shape, " + named(book_.shapes);
        if (reason.look == "glaze") return "the glaze, " + named(book_.glazes);
        if (reason.look == "mark") return "the mark, " + named(book_.marks);
        if (book::place_named(reason.look)) return fmt::format("the {}, {}", reason.look, named(book_.ornaments));
        if (reason.look == "number") return "the number, " + reason.value;
        if (reason.look == "date_code") return "the date code, " + reason.value;
        return fmt::format("{}: {}", reason.look, reason.value);
    }

    const Book& book_;
    const AskedPiece& asked_;
    const naming::Answer& answer_;
};

std::string form_of(const Book& book, const looks::Findings& findings) {
    return findings.form ? book[*findings.form].name : "piece";
}

}  // namespace

std::string Reply::text() const {
    std::string out;
    for (const std::string& paragraph : paragraphs) out += (out.empty() ? "" : "\n\n") + paragraph;
    return out + "\n";
}

std::optional<book::Ref<book::Treatment>> drawn_likeliest(const naming::Answer& answer) {
    if (answer.candidates.empty()) return std::nullopt;
    const naming::Candidate& best = answer.candidates.front();
    if (best.probability < answer.open.unlisted + answer.open.elsewhere) return std::nullopt;
    return best.treatment;
}

Reply reply(const book::Book& book, const Question& question, const std::vector<AskedPiece>& pieces,
            const std::string& signature) {
    Reply out;
    out.paragraphs.push_back(question.name.empty() ? "Good day," : fmt::format("Dear {},", question.name));
    out.paragraphs.push_back(question.subject.empty()
                                 ? "Thank you for your question."
                                 : fmt::format("Thank you for your question about {}.", question.subject));
    if (pieces.empty())
        out.paragraphs.push_back(
            "Before I can say anything I need to see the piece. Please send photographs of the whole piece from "
            "straight "
            "above, of its side, and of the underside.");
    std::set<std::string> cautions;
    std::vector<std::string> caution_texts;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const AskedPiece& asked = pieces[i];
        const Writer writer(book, asked);
        const std::string begin =
            pieces.size() == 1 ? "" : fmt::format("{}. The {}. ", i + 1, form_of(book, asked.findings));
        writer.name(out.paragraphs, begin);
        if (!asked.answer.candidates.empty()) writer.grade_and_date(out.paragraphs);
        writer.reasons(out.paragraphs);
        const auto asks = writer.asks();
        if (!asks.empty()) {
            std::vector<std::string> numbered;
            for (std::size_t n = 0; n < asks.size(); ++n)
                numbered.push_back(fmt::format("({}) {}", n + 1, asks[n]));
            out.paragraphs.push_back(fmt::format("What would tell most: a photograph of {}.", listed(numbered)));
        }
        for (const std::string& ask : asks)
            if (std::ranges::find(out.asks, ask) == out.asks.end()) out.asks.push_back(ask);
        for (const care::Caution& caution : asked.cautions)
            if (cautions.insert(caution.id).second) caution_texts.push_back(caution.text);
    }
    if (!caution_texts.empty()) {
        std::string text = "Some care: ";
        for (const std::string& one : caution_texts) text += (text.ends_with(": ") ? "" : " ") + one;
        out.paragraphs.push_back(std::move(text));
    }
    if (!pieces.empty())
        out.paragraphs.push_back(
            "This is an opinion on what you showed and told me. It is no appraisal; for that, ask a qualified "
            "appraiser "
            "who has the piece in hand.");
    out.paragraphs.push_back(signature.empty() ? "With kind regards" : "With kind regards\n" + signature);
    return out;
}

}  // namespace footring::exchange
