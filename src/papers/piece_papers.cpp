// SPDX-License-Identifier: Apache-2.0
#include "papers/piece_papers.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "base/text.h"
#include "papers/grids.h"
#include "papers/pictures.h"
#include "papers/words.h"

namespace footring::papers {

namespace {

using book::Book;
using book::Ref;

// The piece drawn: as its treatment looks on its form; undecided ones as far as they were seen.
Picture drawn(const Book& b, const OwnPiece& piece) {
    if (piece.treatment) return glyph(b, *piece.treatment, piece.form);
    using State = book::GlyphPlace::State;
    book::Glyph out;
    out.title = "As far as it was seen";
    if (piece.form) {
        out.outline = b[*piece.form].outline;
        out.ware = b[*piece.form].ware;
        out.form_id = b[*piece.form].id;
    }
    if (piece.record.piece.glaze)
        if (const auto glaze = book::find<book::Glaze>(b, piece.record.piece.glaze->value, ""))
            out.lab = b[*glaze].lab;
    for (const looks::Look& look : piece.record.piece.looks) {
        book::GlyphPlace& place = out.at[static_cast<std::size_t>(look.place)];
        if (const auto ornament = book::find<book::Ornament>(b, look.seen.value, "")) {
            place.state = State::kDecorated;
            place.ornaments.push_back(*ornament);
        } else if (place.state == State::kUnknown) {
            place.state = look.seen.value == looks::kNone   ? State::kBare
                          : look.seen.value == looks::kWorn ? State::kWorn
                                                            : State::kSomething;
        }
        place.doubtful = place.doubtful || look.seen.sure == looks::Sure::kGuess;
    }
    return glyph(b, out);
}

std::string address_of(const Order& order, const std::string& id) {
    std::string base = order.address.empty() ? "http://localhost:8377" : order.address;
    while (base.ends_with('/')) base.pop_back();
    std::string out = base + "/cupboard/";
    for (const char c : id) {
        if (std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '.' || c == '_' || c == '~')
            out += c;
        else out += fmt::format("%{:02X}", static_cast<unsigned char>(c));
    }
    return out;
}

PageSize size_of_order(const Order& order) { return order.size == "letter" ? PageSize::kLetter : PageSize::kA4; }

// The date as it fits a narrow line: "1931\u20131939".
std::string short_when(const OwnPiece& piece) {
    if (piece.record.decision && !piece.record.decision->date.empty())
        if (const auto date = edtf::parse(piece.record.decision->date)) return short_years(std::optional(*date));
    return piece.when;
}

std::string wear_words(const looks::Piece& piece) {
    return piece.wear ? std::string(looks::kWearNames[static_cast<std::size_t>(*piece.wear)]) : "not looked at";
}
std::string faults_words(const looks::Piece& piece) {
    return piece.faults ? std::string(looks::kFaultsNames[static_cast<std::size_t>(*piece.faults)])
                        : "not looked at";
}

}  // namespace

Expected<Paper> label_sheet(const std::vector<OwnPiece>& pieces, const Order& order, const Context& with) {
    const Book& b = with.book;
    const auto grid = grid_for(order.sheet, size_of_order(order));
    if (!grid) return std::unexpected(grid.error());
    Labels labels;
    labels.grid = *grid;
    if (!order.skip.empty()) {
        const auto skip = to_int(order.skip);
        if (!skip || *skip < 0 || *skip >= grid->columns * grid->rows)
            return fail(ProblemCode::kBadInput, "skip",
                        fmt::format("'{}' labels cannot be gone from a sheet of {}", order.skip,
                                    grid->columns * grid->rows),
                        "write how many labels of the first sheet are used up");
        labels.skip = *skip;
    }
    if (!order.address.empty() && !order.address.starts_with("http://") && !order.address.starts_with("https://"))
        return fail(ProblemCode::kBadInput, "address", fmt::format("'{}' is no web address", order.address),
                    "begin it with http:// or https://");
    std::map<std::string, std::string> prices;
    for (const std::string& pair : order.prices) {
        const std::size_t equals = pair.find('=');
        if (equals == std::string::npos || equals == 0)
            return fail(ProblemCode::kBadInput, "price", fmt::format("'{}' has no '='", pair),
                        "write the piece and its price, as p-0041=28.00");
        prices[pair.substr(0, equals)] = pair.substr(equals + 1);
    }
    for (const auto& [id, price] : prices)
        if (std::ranges::none_of(pieces, [&](const OwnPiece& piece) { return piece.record.piece.id == id; }))
            return fail(ProblemCode::kNotFound, "price", fmt::format("no label is made for '{}'", id),
                        "name a piece of this sheet");
    const bool priced = order.labels == "price";
    for (const OwnPiece& piece : pieces) {
        Label label;
        label.picture = drawn(b, piece);
        const std::string form = piece.form ? form_of(b, *piece.form) : "";
        label.lines.emplace_back(piece.treatment ? called(b, *piece.treatment)
                                 : form.empty()  ? "Not yet named"
                                                 : form);
        std::string second = piece.treatment ? form : "";
        if (piece.shape) second += (second.empty() ? "" : ", ") + shape_of(b, *piece.shape);
        if (!second.empty()) label.lines.emplace_back(second);
        if (const std::string when = short_when(piece); !when.empty()) label.lines.emplace_back(capital(when));
        Text last(piece.record.piece.id);
        if (!priced && !piece.record.place.empty()) last.add(" \u00b7 " + piece.record.place);
        if (piece.record.decision && piece.record.decision->grade == "second") last.add(" \u00b7 second grade");
        label.lines.push_back(std::move(last));
        if (priced) {
            const auto price = prices.find(piece.record.piece.id);
            label.price = price == prices.end() ? "________" : price->second;
        }
        auto code = qr(address_of(order, piece.record.piece.id));
        if (!code) return std::unexpected(code.error());
        label.code = std::move(*code);
        labels.labels.push_back(std::move(label));
    }
    Paper paper;
    paper.kind = "Labels";
    paper.title = count_of(pieces.size(), "label", "labels");
    paper.about = "Labels with a drawing, the name, the date and a QR code that leads to the page of the piece.";
    paper.date = order.date;
    paper.bare = true;
    paper.blocks.emplace_back(std::move(labels));
    return paper;
}

Expected<Paper> inventory(const std::vector<OwnPiece>& pieces, const Order& order, const Context& with) {
    const Book& b = with.book;
    Paper paper;
    paper.kind = "Inventory";
    paper.title = order.lot.empty() ? "The cupboard" : "Lot " + order.lot;
    paper.subtitle = capital(count_of(pieces.size(), "piece", "pieces"));
    const bool costs = with.sight == store::Sight::kAll;
    paper.about = costs ? "A list of pieces with their names, places and what was paid for them."
                        : "A list of pieces with their names and places.";
    paper.date = order.date;
    // What lies in one place is listed together, so that one can walk along the shelf with the list.
    std::map<std::string, std::vector<const OwnPiece*>> by_place;
    for (const OwnPiece& piece : pieces) by_place[piece.record.place].push_back(&piece);
    std::map<std::string, double> paid;
    std::size_t without_cost = 0;
    for (const auto& [place, list] : by_place) {
        Table table;
        table.caption = fmt::format("{} ({})", place.empty() ? "No place recorded" : place,
                                    count_of(list.size(), "piece", "pieces"));
        table.compact = true;
        table.columns = {{"Id", 1}, {"Form", 2.5}, {"Shape", 1.1}, {"Named", 3.2}, {"Date", 1.6}, {"Lot", 0.8}};
        if (costs) table.columns.push_back({"Paid", 1.2, Table::Align::kRight});
        for (const OwnPiece* piece : list) {
            const store::PieceRecord& record = piece->record;
            std::string cost;
            if (record.cost) {
                paid[record.currency] += *record.cost;
                cost = fmt::format("{:.2f}{}", *record.cost, record.currency.empty() ? "" : " " + record.currency);
            } else {
                ++without_cost;
            }
            const std::string named = piece->treatment  ? called(b, *piece->treatment)
                                      : record.decision ? certainty(b, *piece)
                                                        : "undecided";
            Text id;
            id.bold(record.piece.id);
            table.rows.push_back({Cell(std::move(id)),
                                  Cell(piece->form ? form_of(b, *piece->form) : record.piece.form),
                                  Cell(piece->shape ? shape_of(b, *piece->shape) : ""), Cell(named),
                                  Cell(short_when(*piece)), Cell(record.lot)});
            if (costs) table.rows.back().push_back(Cell(cost));
        }
        paper.blocks.emplace_back(std::move(table));
    }
    std::vector<std::string> sums;
    for (const auto& [currency, sum] : paid) sums.push_back(fmt::format("{:.2f} {}", sum, currency));
    Paragraph last;
    if (costs)
        last.text.add(sums.empty()
                          ? "What was paid is not recorded."
                          : fmt::format("Paid in all: {}{}. What was paid is not what a piece is worth.",
                                        listed(sums),
                                        without_cost > 0 ? fmt::format(", without {} of which no cost is recorded",
                                                                       count_of(without_cost, "piece", "pieces"))
                                                         : ""));
    if (costs) paper.blocks.emplace_back(std::move(last));
    Paragraph made;
    made.kind = Paragraph::Kind::kNote;
    made.text.add("Names are those of ").italic(pack_titles(b)).add(".");
    paper.blocks.emplace_back(std::move(made));
    return paper;
}

Expected<Paper> condition_report(const OwnPiece& piece, const Order& order, const Context& with) {
    const Book& b = with.book;
    const looks::Piece& seen = piece.record.piece;
    Paper paper;
    paper.kind = "Condition report";
    paper.title = piece_name(b, piece);
    paper.subtitle = fmt::format("Piece {}", seen.id);
    paper.about = fmt::format("The condition of piece {}, with photographs.", seen.id);
    paper.date = order.date;
    std::vector<PhotoMark> marks;
    for (const std::string& each : order.marks) {
        const std::size_t one = each.find(','), two = one == std::string::npos ? one : each.find(',', one + 1);
        const auto x = to_number(trim(std::string_view(each).substr(0, std::min(one, each.size()))));
        const auto y = two == std::string::npos
                           ? std::nullopt
                           : to_number(trim(std::string_view(each).substr(one + 1, two - one - 1)));
        if (!x || !y || *x < 0 || *x > 1 || *y < 0 || *y > 1)
            return fail(
                ProblemCode::kBadInput, "mark", fmt::format("'{}' is no mark", each),
                "write across, down (0 to 1 of the photograph) and what is there, as 0.40,0.62,chip at the rim");
        marks.push_back({*x, *y, std::string(trim(std::string_view(each).substr(two + 1)))});
    }
    if (!marks.empty() && piece.record.photos.empty())
        return fail(ProblemCode::kBadInput, "mark", fmt::format("piece {} has no photograph to mark", seen.id),
                    "add a photograph to it, or leave the marks out");

    Facts facts;
    facts.rows.push_back({"Named", Text(certainty(b, piece))});
    facts.rows.push_back({"Wear", Text(wear_words(seen))});
    facts.rows.push_back({"Faults", Text(faults_words(seen))});
    std::vector<std::string> size;
    for (const auto& [value, name] :
         {std::pair{seen.length_mm, "long"}, {seen.width_mm, "wide"}, {seen.height_mm, "high"}})
        if (value) size.push_back(fmt::format("{:g} mm {}", *value, name));
    facts.rows.push_back({"Size", Text(size.empty() ? "not measured" : joined(size, ", "))});
    if (seen.mark) {
        std::string wording = seen.mark->value;
        if (const auto mark = book::find<book::Mark>(b, seen.mark->value, "")) wording = b[*mark].wording;
        facts.rows.push_back({"Mark", Text(wording)});
    }
    if (seen.number) facts.rows.push_back({"Number", Text(seen.number->value)});
    if (!piece.record.place.empty()) facts.rows.push_back({"Kept", Text(piece.record.place)});
    if (!piece.record.note.empty()) facts.rows.push_back({"Note", Text(piece.record.note)});
    paper.blocks.emplace_back(std::move(facts));

    for (std::size_t i = 0; i < piece.record.photos.size() && i < 6; ++i) {
        auto photo = large_photo(*with.store, piece.record.photos[i], 1400,
                                 fmt::format("Photograph {} of piece {}", i + 1, seen.id));
        if (!photo) return std::unexpected(photo.error());
        Figures figures;
        figures.each_mm = i == 0 ? 150 : 80;
        Figure figure;
        figure.picture = std::move(*photo);
        figure.caption =
            Text(fmt::format("Photograph {}{}", i + 1, i == 0 && !marks.empty() ? ", with what is marked" : ""));
        if (i == 0) figure.marks = marks;
        figures.items.push_back(std::move(figure));
        // The smaller ones side by side.
        while (i > 0 && i + 1 < piece.record.photos.size() && i + 1 < 6) {
            ++i;
            auto next = large_photo(*with.store, piece.record.photos[i], 900,
                                    fmt::format("Photograph {} of piece {}", i + 1, seen.id));
            if (!next) return std::unexpected(next.error());
            figures.items.push_back({std::move(*next), Text(fmt::format("Photograph {}", i + 1)), "", {}});
        }
        paper.blocks.emplace_back(std::move(figures));
    }
    if (!marks.empty()) {
        List list;
        list.numbered = true;
        for (const PhotoMark& mark : marks) list.items.emplace_back(mark.text.empty() ? "marked" : mark.text);
        paper.blocks.emplace_back(Heading{2, "What is marked", "marked", ""});
        paper.blocks.emplace_back(std::move(list));
    }
    if (piece.record.photos.empty()) {
        Figures figures;
        figures.each_mm = 90;
        figures.items.push_back({drawn(b, piece),
                                 Text("A drawing, to mark what is found. It shows what is recorded, not "
                                      "this piece."),
                                 "",
                                 {}});
        paper.blocks.emplace_back(std::move(figures));
    }
    paper.blocks.emplace_back(Heading{2, "Found on looking again", "found", ""});
    paper.blocks.emplace_back(Space{"Chips, cracks, hairlines", 2});
    paper.blocks.emplace_back(Space{"Crazing, stains", 1});
    paper.blocks.emplace_back(Space{"Decoration worn", 1});
    paper.blocks.emplace_back(Space{"Repairs, under the ultraviolet lamp", 1});
    paper.blocks.emplace_back(Space{"Looked at by, on", 1});
    Paragraph note;
    note.kind = Paragraph::Kind::kNote;
    note.text.add(
        "What is not named here was not looked at; its absence is no promise. Whether a piece is restored is for a "
        "conservator to say. Names are those of ");
    note.text.italic(pack_titles(b)).add(".");
    paper.blocks.emplace_back(std::move(note));
    return paper;
}

}  // namespace footring::papers
