// SPDX-License-Identifier: Apache-2.0
#include "server/records.h"

#include "exchange/names.h"
#include "exchange/record_json.h"
#include "looks/resolve.h"

namespace footring::server {

namespace {

std::expected<void, Problems> settle(App& app, store::PieceRecord& record, const store::PieceRecord* before) {
    const bool same = before != nullptr && before->decision == record.decision;
    if (same) {
        record.attribution = before->attribution;
        record.search_words = before->search_words;
        return {};
    }
    if (auto settled = exchange::settle_decision(record, app.book, "decision: /treatment"); !settled)
        return refuse(settled.error());
    record.attribution.reset();
    // A piece that names rows of a pack which is not open now can be decided; the engine then has no say.
    if (auto answer = examine_piece(app, record.piece, {}))
        record.attribution = store::Attribution{nlohmann::json(*answer), app.packs, app.now()};
    return {};
}

}  // namespace

std::expected<nlohmann::ordered_json, Problems> full_record_json(const App& app, const store::PieceRecord& record) {
    nlohmann::ordered_json out = exchange::record_json(record), photos = nlohmann::ordered_json::array();
    if (!record.photos.empty()) {
        const auto metas = app.store->photos(record.piece.id);
        if (!metas) return refuse(metas.error());
        for (const store::PhotoMeta& meta : *metas) photos.push_back(exchange::photo_json(meta));
    }
    out["photos"] = std::move(photos);
    if (record.decision)
        if (const auto ref = book::find<book::Treatment>(app.book, record.decision->treatment, "decision")) {
            out["treatment_number"] = app.book[*ref].number;
            out["treatment_name"] = app.book[*ref].name;
        }
    return out;
}

std::expected<void, Problems> make_ready(App& app, store::PieceRecord& record, const store::PieceRecord* before) {
    if (before == nullptr || before->piece != record.piece)
        if (auto findings = looks::resolve(record.piece, app.book, app.settings, "piece"); !findings)
            return refuse(std::move(findings.error()));
    if (before != nullptr) {
        record.created = before->created;
        record.changed = before->changed;
        record.photos = before->photos;
    }
    if (record.decision) return settle(app, record, before);
    record.attribution.reset();
    record.search_words.clear();
    return {};
}

std::expected<std::int64_t, Problems> pieces_kept(const App& app) {
    store::Query only_the_total;
    only_the_total.limit = 0;
    const auto page = app.store->find(only_the_total);
    if (!page) return refuse(page.error());
    return page->total;
}

void note_change(App& app) {
    if (app.settings.prior_cupboard_counts == 0) return;
    app.shelf->forget_counts();
    app.house.forget_counts();  // the Book may have been edited since this request began
}

}  // namespace footring::server
