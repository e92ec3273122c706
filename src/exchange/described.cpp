// SPDX-License-Identifier: Apache-2.0
#include "exchange/described.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/words.h"
#include "book/decoration.h"
#include "exchange/names.h"

namespace footring::exchange {

namespace {

using book::Book;
using book::Ref;
using Named = std::pair<std::string, std::string>;

template <class T>
std::optional<Ref<T>> row(const Book& book, std::string_view id) {
    if (id.empty()) return std::nullopt;
    const auto found = book::find<T>(book, id, "");
    return found ? std::optional(*found) : std::nullopt;
}
template <class T>
std::string full(const Book& book, Ref<T> ref) {
    return book.packs[book[ref].origin.pack].id + ":" + book[ref].id;
}
bool is_word(std::string_view value) {
    return value == looks::kNone || value == looks::kSomething || value == looks::kWorn;
}
template <class T>
std::string name_or_id(const Book& book, const std::string& id) {
    const auto ref = row<T>(book, id);
    return ref ? book[*ref].name : id;
}

class Describer {
  public:
    Describer(const Book& book, const store::PieceRecord& record) : book_(book), record_(record) {}

    Described describe() {
        const looks::Piece& piece = record_.piece;
        out_.id = piece.id;
        form();
        if (record_.decision && !record_.decision->treatment.empty())
            treatment_ = row<book::Treatment>(book_, record_.decision->treatment);
        if (treatment_) decided();
        else seen();
        if (record_.decision) {
            out_.decided = true;
            out_.grade = record_.decision->grade;
            date(record_.decision->date);
        }
        if (piece.mark && !is_word(piece.mark->value)) {
            const auto mark = row<book::Mark>(book_, piece.mark->value);
            out_.mark = mark ? book_[*mark].wording : piece.mark->value;
        }
        if (piece.wear)
            out_.condition.push_back(
                fmt::format("Wear: {}.", looks::kWearNames[static_cast<std::size_t>(*piece.wear)]));
        if (piece.faults)
            out_.condition.push_back(
                fmt::format("Faults: {}.", looks::kFaultsNames[static_cast<std::size_t>(*piece.faults)]));
        out_.length_mm = piece.length_mm;
        out_.width_mm = piece.width_mm;
        out_.height_mm = piece.height_mm;
        words();
        return std::move(out_);
    }

  private:
    void form() {
        const auto form = row<book::Form>(book_, record_.piece.form);
        out_.form = form ? book_[*form].name : record_.piece.form;
        if (!form) return;
        out_.aat = book_[*form].aat;
        out_.ware = name_of(book_[*form].ware);
        form_ = form;
    }
    void maker(std::optional<Ref<book::Maker>> maker) {
        if (maker) out_.maker = Named{full(book_, *maker), book_[*maker].name};
    }
    void ornament(book::Place place, Ref<book::Ornament> ref) {
        const book::Ornament& ornament = book_[ref];
        out_.decoration.push_back(fmt::format("{}: {} ({} {})", capital(std::string(name_of(place))), ornament.name,
                                              ornament.finish, name_of(ornament.kind)));
        const Named named{full(book_, ref), ornament.name};
        if (std::ranges::find(out_.ornaments, named) == out_.ornaments.end()) out_.ornaments.push_back(named);
    }
    void decided() {
        const book::Treatment& treatment = book_[*treatment_];
        out_.treatment = Named{full(book_, *treatment_), treatment.name.empty() ? treatment.id : treatment.name};
        out_.number = treatment.number;
        out_.shape = book_[treatment.shape].name;
        if (treatment.glaze) out_.glaze = book_[*treatment.glaze].name;
        maker(maker_of(book_, *treatment_));
        const book::Decoration decoration = book::decoration(book_, *treatment_, form_);
        for (std::size_t at = 0; at < book::kPlaces; ++at) {
            const auto& carried = decoration.at[at];
            const auto likeliest = std::ranges::max_element(carried, {}, &book::Carried::share);
            if (likeliest != carried.end()) ornament(static_cast<book::Place>(at), likeliest->ornament);
        }
        for (const auto source : treatment.sources)
            out_.sources.push_back(joined({book_[source].creator, book_[source].title, book_[source].date}, ", "));
    }
    void seen() {
        const looks::Piece& piece = record_.piece;
        if (piece.shape && !is_word(piece.shape->value)) {
            out_.shape = name_or_id<book::Shape>(book_, piece.shape->value);
            if (const auto shape = row<book::Shape>(book_, piece.shape->value)) maker(book_[*shape].maker);
        }
        if (piece.glaze && !is_word(piece.glaze->value))
            out_.glaze = name_or_id<book::Glaze>(book_, piece.glaze->value);
        if (piece.number && !is_word(piece.number->value)) out_.number = piece.number->value;
        for (const looks::Look& look : piece.looks) {
            if (look.seen.value == looks::kNone) continue;
            if (const auto found = row<book::Ornament>(book_, look.seen.value)) ornament(look.place, *found);
            else if (look.seen.value == looks::kSomething || look.seen.value == looks::kWorn)
                out_.decoration.push_back(fmt::format(
                    "{}: {}", capital(std::string(name_of(look.place))),
                    look.seen.value == looks::kWorn ? "traces of an ornament" : "an ornament, not named"));
            else
                out_.decoration.push_back(
                    fmt::format("{}: {}", capital(std::string(name_of(look.place))), look.seen.value));
        }
    }
    void date(const std::string& text) {
        if (text.empty()) return;
        if (auto read = edtf::parse(text)) {
            out_.date_words = edtf::in_words(*read);
            out_.date = std::move(*read);
        }
    }
    void words() {
        const std::string decoration =
            out_.treatment ? joined({out_.number, out_.treatment->second}, " ") : std::string();
        out_.title = joined({out_.form.empty() ? "Piece" : capital(out_.form), out_.shape, decoration}, ", ");
        std::string who = out_.decided ? "Named by the keeper of the piece." : "Not decided: only what was seen.";
        if (record_.decision && record_.decision->treatment == "unlisted")
            who = "The keeper takes it for a treatment that no reference lists.";
        if (record_.decision && record_.decision->treatment == "elsewhere")
            who = "The keeper takes it for another maker's, or for decorated elsewhere.";
        std::vector<std::string> sentences{
            joined({out_.title, out_.maker ? out_.maker->second : "",
                    out_.glaze.empty() ? "" : out_.glaze + " glaze", out_.date_words},
                   ", ") +
            "."};
        if (!out_.decoration.empty()) sentences.push_back(joined(out_.decoration, "; ") + ".");
        if (!out_.grade.empty()) sentences.push_back(fmt::format("Grade: {}.", out_.grade));
        for (const std::string& one : out_.condition) sentences.push_back(one);
        sentences.push_back(std::move(who));
        out_.summary = joined(sentences, " ");
    }

    const Book& book_;
    const store::PieceRecord& record_;
    std::optional<Ref<book::Form>> form_;
    std::optional<Ref<book::Treatment>> treatment_;
    Described out_;
};

}  // namespace

Described describe(const book::Book& book, const store::PieceRecord& record, std::vector<store::PhotoMeta> photos) {
    Described out = Describer(book, record).describe();
    out.photos = std::move(photos);
    return out;
}

Expected<std::string> base_address(const std::string& text, std::string_view where) {
    if (text.empty()) return std::string(kOwnBase);
    const bool http = text.starts_with("http://") || text.starts_with("https://");
    if (!http || text.size() > 500 || text.find_first_of(" <>\"{}|\\^`?#\t\r\n") != std::string::npos)
        return fail(ProblemCode::kBadInput, std::string(where), fmt::format("'{}' is no address", text),
                    "write one that begins with https://, such as https://plates.example/");
    return text;
}

std::string address(std::string_view base, const std::vector<std::string>& parts) {
    constexpr std::string_view kPlain = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~";
    std::string out(base);
    if (!out.empty() && out.back() != '/') out += '/';
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (i > 0) out += '/';
        for (const char c : parts[i]) {
            if (kPlain.find(c) != std::string_view::npos) out += c;
            else out += fmt::format("%{:02X}", static_cast<unsigned char>(c));
        }
    }
    return out;
}

}  // namespace footring::exchange
