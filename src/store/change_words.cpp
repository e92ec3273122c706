// SPDX-License-Identifier: Apache-2.0
#include "store/change_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "base/words.h"
#include "store/record_kinds.h"

namespace footring::store {

namespace {

std::string shortened(std::string_view text) {
    constexpr std::size_t kMost = 80;
    if (text.size() <= kMost) return std::string(text);
    std::size_t end = kMost;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
    return std::string(text.substr(0, end)) + "...";
}

// The differences, each "Label: value"; joined to sentences at the end.
class Differences {
  public:
    void text(std::string_view label, const std::string& before, const std::string& after, std::string_view gone) {
        if (before != after) say(label, after.empty() ? std::string(gone) : shortened(after));
    }
    void amount(std::string_view label, const std::optional<double>& before, const std::optional<double>& after,
                std::string_view unit, std::string_view gone) {
        if (before == after) return;
        if (!after) return say(label, std::string(gone));
        say(label, unit.empty() ? fmt::format("{}", *after) : fmt::format("{} {}", *after, unit));
    }
    void say(std::string_view label, const std::string& value) {
        said_.push_back(fmt::format("{}: {}.", label, value));
    }
    void say(std::string sentence) { said_.push_back(std::move(sentence)); }
    std::string sentences(std::string_view otherwise) const {
        constexpr std::size_t kMost = 12;
        if (said_.empty()) return std::string(otherwise);
        std::string out;
        for (std::size_t i = 0; i < said_.size() && i < kMost; ++i) (out += i == 0 ? "" : " ") += said_[i];
        if (said_.size() > kMost) out += fmt::format(" And {} more.", said_.size() - kMost);
        return out;
    }

  private:
    std::vector<std::string> said_;
};

constexpr std::string_view kUnseen = "not looked at", kGone = "removed";

std::string in_words(const looks::Seen& seen) {
    return fmt::format("{} ({})", shortened(seen.value), looks::kSureNames[static_cast<std::size_t>(seen.sure)]);
}
std::string in_words(const std::optional<looks::Seen>& seen) { return seen ? in_words(*seen) : std::string(); }
std::string seen_at(const looks::Piece& piece, book::Place place) {
    std::string out;
    for (const looks::Look& look : piece.looks)
        if (look.place == place) (out += out.empty() ? "" : ", ") += in_words(look.seen);
    return out;
}
template <class Word, std::size_t n>
std::string in_words(const std::optional<Word>& word, const std::array<std::string_view, n>& names) {
    return word ? std::string(names[static_cast<std::size_t>(*word)]) : std::string();
}
std::string in_words(const std::optional<Decision>& d) {
    if (!d) return {};
    std::string out = d->treatment;
    for (const std::string* part : {&d->grade, &d->date})
        if (!part->empty()) (out += out.empty() ? "" : ", ") += *part;
    return out.empty() ? "nothing in particular" : shortened(out);
}

void compare_looks(const looks::Piece& a, const looks::Piece& b, Differences& d) {
    d.text("Form", a.form, b.form, kUnseen);
    d.text("Shape", in_words(a.shape), in_words(b.shape), kUnseen);
    d.text("Glaze", in_words(a.glaze), in_words(b.glaze), kUnseen);
    for (std::size_t i = 0; i < book::kPlaces; ++i) {
        const auto place = static_cast<book::Place>(i);
        d.text(capital(book::name_of(place)), seen_at(a, place), seen_at(b, place), kUnseen);
    }
    d.text("Wear", in_words(a.wear, looks::kWearNames), in_words(b.wear, looks::kWearNames), kUnseen);
    d.text("Mark", in_words(a.mark), in_words(b.mark), kUnseen);
    d.text("Number", in_words(a.number), in_words(b.number), kUnseen);
    d.text("Date code", a.date_code, b.date_code, kUnseen);
    d.text("Faults", in_words(a.faults, looks::kFaultsNames), in_words(b.faults, looks::kFaultsNames), kUnseen);
    d.amount("Length", a.length_mm, b.length_mm, "mm", "not measured");
    d.amount("Width", a.width_mm, b.width_mm, "mm", "not measured");
    d.amount("Height", a.height_mm, b.height_mm, "mm", "not measured");
    d.text("Photographs named", joined(a.photos, ", "), joined(b.photos, ", "), kGone);
}

// A member of a body that only its caller understands.
std::string in_words(const nlohmann::json& value) {
    if (value.is_null()) return {};
    if (value.is_string()) return value.get<std::string>();
    if (value.is_boolean()) return value.get<bool>() ? "yes" : "no";
    if (value.is_object()) return value.empty() ? "" : "changed";
    if (!value.is_array()) return value.dump();
    if (std::ranges::any_of(value, [](const auto& part) { return part.is_structured(); }))
        return value.size() == 1 ? "1 entry" : fmt::format("{} entries", value.size());
    std::vector<std::string> parts;
    for (const auto& part : value) parts.push_back(in_words(part));
    return joined(parts, ", ");
}
std::string label_of(const std::string& member) {
    std::string out = capital(member);
    std::ranges::replace(out, '_', ' ');
    return out;
}

}  // namespace

std::string change_in_words(const PieceRecord* before, const PieceRecord& after) {
    const PieceRecord nothing;
    const PieceRecord& a = before == nullptr ? nothing : *before;
    Differences d;
    if (before == nullptr) d.say("Added.");
    compare_looks(a.piece, after.piece, d);
    if (a.is_private != after.is_private) d.say(after.is_private ? "Private from now on." : "No longer private.");
    d.text("Lot", a.lot, after.lot, "none");
    d.text("Kept at", a.place, after.place, "place not recorded");
    if (a.currency != after.currency && a.cost == after.cost && after.cost)
        d.say("Cost",
              fmt::format("{} {}", *after.cost, after.currency.empty() ? "without currency" : after.currency));
    else d.amount("Cost", a.cost, after.cost, after.currency, kGone);
    d.text("Note", a.note, after.note, kGone);
    if (in_words(a.decision) != in_words(after.decision) || a.decision.has_value() != after.decision.has_value())
        d.say(after.decision ? fmt::format("Decided: {}.", in_words(after.decision)) : "Decision withdrawn.");
    d.text("Decision's note", a.decision ? a.decision->note : "", after.decision ? after.decision->note : "",
           kGone);
    if (a.attribution != after.attribution)
        d.say(after.attribution ? "The engine's answer is kept with it."
                                : "The engine's answer is no longer kept.");
    return d.sentences("Changed.");
}

std::string change_in_words(const Lot* before, const Lot& after) {
    const Lot nothing;
    const Lot& a = before == nullptr ? nothing : *before;
    Differences d;
    if (before == nullptr) d.say("Lot added.");
    d.text("Name", a.name, after.name, kGone);
    d.text("Date", a.date, after.date, kGone);
    d.text("Bought at", a.place, after.place, kGone);
    d.amount("Cost", a.cost, after.cost, after.currency, kGone);
    d.text("Note", a.note, after.note, kGone);
    return d.sentences("Changed.");
}

std::string change_in_words(const Record* before, const Record& after) {
    const nlohmann::json nothing = nlohmann::json::object();
    const nlohmann::json& a = before == nullptr ? nothing : before->body;
    Differences d;
    if (before == nullptr) d.say(fmt::format("{} added.", record_kind(after.kind)->title));
    for (const auto& [member, value] : after.body.items()) {
        const auto was = a.find(member);
        if (was != a.end() && *was == value) continue;
        const std::string said = in_words(value);
        if (said.empty() && (was == a.end() || in_words(*was).empty())) continue;  // empty, as it was
        d.say(label_of(member), said.empty() ? std::string(kGone) : shortened(said));
    }
    for (const auto& [member, value] : a.items())
        if (!after.body.contains(member) && !in_words(value).empty()) d.say(label_of(member), std::string(kGone));
    return d.sentences("Changed.");
}

}  // namespace footring::store
