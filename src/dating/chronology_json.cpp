// SPDX-License-Identifier: Apache-2.0
#include "base/json.h"
#include "book/glyph.h"
#include "dating/chronology.h"

namespace footring::dating {

namespace {

using book::Ref;
using Json = nlohmann::ordered_json;

Json span_json(const SoftSpan& span) {
    return {
        {"soft_first", span.soft_first}, {"first", span.first}, {"last", span.last}, {"soft_last", span.soft_last}};
}
Json span_json(const std::optional<SoftSpan>& span) { return span ? span_json(*span) : Json(nullptr); }

template <class T>
Json id_json(const book::Book& book, const std::optional<Ref<T>>& ref) {
    return ref ? Json(book::id_of(book, *ref)) : Json(nullptr);
}
template <class T>
Json named(const book::Book& book, const std::optional<Ref<T>>& ref) {
    if (!ref) return nullptr;
    return {{"id", book::id_of(book, *ref)}, {"name", book[*ref].name}};
}

Json source_json(const book::Book& book, Ref<book::Source> ref) {
    const book::Source& row = book[ref];
    return {{"id", book::id_of(book, ref)},
            {"title", row.title},
            {"trust", row.trust ? Json(*row.trust) : Json(nullptr)}};
}
Json sources_json(const book::Book& book, const std::vector<Ref<book::Source>>& sources) {
    return json_list(sources, [&](auto ref) { return source_json(book, ref); });
}

Json glaze_json(const book::Book& book, const std::optional<Ref<book::Glaze>>& ref) {
    if (!ref) return nullptr;
    Json out = named(book, ref);
    out["colour"] = book[*ref].lab ? Json(book::srgb_of_lab(*book[*ref].lab)) : Json(nullptr);
    return out;
}

std::string words_of(const std::optional<edtf::Edtf>& years) { return years ? edtf::in_words(*years) : ""; }

// The row that a dated use is about: {table, id, name}.
Json subject_json(const book::Book& book, const book::DatedUse& use) {
    const std::size_t colon = use.subject.find(':');
    const std::string bare = colon == std::string::npos ? use.subject : use.subject.substr(colon + 1);
    Json out = {{"table", ""}, {"id", use.subject}, {"name", ""}};
    const auto look = [&]<class T>(Ref<T>, auto name) {
        const auto rows = book.ids.find(std::string(book::Book::table_name<T>()) + "/" + bare);
        if (rows == book.ids.end()) return false;
        for (const std::uint32_t at : rows->second) {
            const T& row = book.table<T>()[at];
            if (colon != std::string::npos && row.origin.pack < book.packs.size() &&
                book.packs[row.origin.pack].id != use.subject.substr(0, colon))
                continue;
            out = {
                {"table", book::Book::table_name<T>()}, {"id", book::id_of(book, Ref<T>{at})}, {"name", name(row)}};
            return true;
        }
        return false;
    };
    const auto name = [](const auto& row) { return row.name; };
    look(Ref<book::Treatment>{},
         [](const book::Treatment& t) {
             return t.number + (t.number.empty() || t.name.empty() ? "" : " ") + t.name;
         }) ||
        look(Ref<book::Ornament>{}, name) || look(Ref<book::Shape>{}, name) || look(Ref<book::Glaze>{}, name) ||
        look(Ref<book::Mark>{}, [](const book::Mark& m) { return m.wording; });
    return out;
}

Json bar_json(const book::Book& book, const Bar& bar) {
    const book::Treatment& t = book[bar.treatment];
    return {{"treatment", {{"id", book::id_of(book, bar.treatment)}, {"number", t.number}, {"name", t.name}}},
            {"grade", name_of(t.grade)},
            {"glaze", glaze_json(book, t.glaze)},
            {"places", json_list(bar.places, [](book::Place place) { return book::name_of(place); })},
            {"edtf", bar.edtf},
            {"words", bar.words},
            {"stated", bar.stated},
            {"span", span_json(bar.span)},
            {"sources", sources_json(book, bar.sources)}};
}

}  // namespace

Json chronology_json(const book::Book& book, const Chronology& c) {
    Json of = {{"table", c.table},          {"id", c.id},       {"name", c.name},
               {"span", span_json(c.span)}, {"words", c.words}, {"sources", sources_json(book, c.sources)}};
    return {{"title", c.title},
            {"of", std::move(of)},
            {"first", c.first},
            {"last", c.last},
            {"lanes", json_list(c.lanes,
                                [&](const Lane& lane) {
                                    const book::Shape& shape = book[lane.shape];
                                    return Json{{"shape", named(book, std::optional(lane.shape))},
                                                {"maker", named(book, shape.maker)},
                                                {"span", span_json(lane.span)},
                                                {"words", words_of(shape.years)},
                                                {"sources", sources_json(book, shape.sources)},
                                                {"bars", json_list(lane.bars, [&](const Bar& bar) {
                                                     return bar_json(book, bar);
                                                 })}};
                                })},
            {"ticks", json_list(c.ticks,
                                [&](const Tick& tick) {
                                    const book::DatedUse& use = book.dated_uses[tick.use];
                                    return Json{
                                        {"date", use.date.text()},
                                        {"words", edtf::in_words(use.date)},
                                        {"span", span_json(tick.span)},
                                        {"kind", use.kind},
                                        {"subject", subject_json(book, use)},
                                        {"lane", id_json(book, tick.lane)},
                                        {"treatment", id_json(book, tick.treatment)},
                                        {"source", use.sources.empty() ? Json(nullptr)
                                                                       : source_json(book, use.sources.front())}};
                                })},
            {"glazes", json_list(c.glazes,
                                 [&](const ShownGlaze& one) {
                                     Json out = glaze_json(book, one.glaze);
                                     out["span"] = span_json(one.span);
                                     out["words"] = words_of(book[one.glaze].years);
                                     out["sources"] = sources_json(book, book[one.glaze].sources);
                                     return out;
                                 })},
            {"numbers", json_list(c.numbers,
                                  [&](const NumberPoint& one) {
                                      return Json{{"shape", book::id_of(book, one.shape)},
                                                  {"sequence", one.sequence},
                                                  {"seconds", one.seconds},
                                                  {"number", one.number},
                                                  {"year", one.year},
                                                  {"low", one.low},
                                                  {"high", one.high},
                                                  {"line", one.line},
                                                  {"treatment", book::id_of(book, one.treatment)},
                                                  {"dated", one.dated},
                                                  {"outlier", one.outlier}};
                                  })},
            {"pieces", json_list(c.pieces,
                                 [&](const ChronologyPiece& piece) {
                                     return Json{{"id", piece.id},
                                                 {"form", named(book, piece.form)},
                                                 {"lane", id_json(book, piece.lane)},
                                                 {"treatment", id_json(book, piece.treatment)},
                                                 {"decided", piece.decided},
                                                 {"median", piece.median},
                                                 {"hpd68", {piece.hpd68.first, piece.hpd68.second}},
                                                 {"hpd95", {piece.hpd95.first, piece.hpd95.second}}};
                                 })},
            {"notes", c.notes}};
}

}  // namespace footring::dating
