// SPDX-License-Identifier: Apache-2.0
#include "server/reexaminer.h"

#include <algorithm>

#include "server/app.h"

namespace footring::server {

Expected<void> Reexaminer::start(std::shared_ptr<App> app) {
    const std::lock_guard starting(starting_);
    {
        const std::lock_guard lock(mutex_);
        if (progress_.state == State::kRunning)
            return fail(ProblemCode::kConflict, "reexaminations", "the pieces are being examined again already",
                        "wait for it, or stop it");
        progress_ = {};
        progress_.state = State::kRunning;
        progress_.began = app->now();
        progress_.packs = app->packs;
    }
    if (thread_.joinable()) thread_.join();
    stop_ = false;
    thread_ = std::thread([this, app = std::move(app)] { work(app); });
    return {};
}

void Reexaminer::stop() {
    const std::lock_guard starting(starting_);
    stop_ = true;
    if (thread_.joinable()) thread_.join();
}

Reexaminer::Progress Reexaminer::progress() const {
    const std::lock_guard lock(mutex_);
    return progress_;
}

Expected<void> Reexaminer::begin_with_these_packs() {
    if (reviewed_.there()) return {};
    return reviewed_.take(packs_());
}

Expected<void> Reexaminer::settled(const std::string& piece, const std::string& packs) {
    const std::lock_guard lock(mutex_);
    const bool was_there = std::erase_if(progress_.changed, [&](const exchange::Reexamined& one) {
                               return one.record.piece.id == piece;
                           }) > 0;
    return was_there ? note_review(packs) : Expected<void>{};
}

// Only a whole review of the packs that are still open counts, once nothing undecided is left of it.
Expected<void> Reexaminer::note_review(const std::string& packs) {
    const bool left = std::ranges::any_of(progress_.changed,
                                          [](const exchange::Reexamined& one) { return !one.record.decision; });
    if (progress_.state != State::kDone || progress_.packs != packs || left) return {};
    return reviewed_.take(packs_());
}

namespace {

// The same pieces, examined by what the Book said before.
std::shared_ptr<App> over_older_book(const App& app, book::Book older) {
    auto open = std::make_shared<OpenBook>(std::move(older));
    auto shelf = std::make_shared<Shelf>(std::move(open), app.shelf->store, app.settings, app.now);
    return std::make_shared<App>(app.house, std::move(shelf), app.shelf->store.signed_by(app.visitor.account),
                                 app.visitor);
}

}  // namespace

void Reexaminer::work(const std::shared_ptr<App>& app) {
    const auto with = [](const std::shared_ptr<App>& open) -> exchange::Examine {
        return [open](const looks::Piece& piece) -> std::expected<nlohmann::json, std::vector<Problem>> {
            auto answer = examine_piece(*open, piece, {});
            if (!answer) return std::unexpected(std::move(answer.error()));
            return nlohmann::json(*answer);
        };
    };
    const auto told = [this](int done, int of, const exchange::Reexamined* changed) {
        const std::lock_guard lock(mutex_);
        progress_.done = done;
        progress_.of = of;
        if (changed != nullptr) progress_.changed.push_back(*changed);
        return !stop_;
    };
    Expected<exchange::Reexamination> finished;
    try {
        auto before = reviewed_.read();
        // The App of the older Book is for examining only: nobody else sees it.
        const auto then = before ? over_older_book(*app, std::move(*before)) : nullptr;
        finished = exchange::reexamine(*app->store, app->book, app->packs, with(app),
                                       then ? with(then) : exchange::Examine{}, told);
    } catch (const std::exception& fault) {
        finished = fail(ProblemCode::kOurFault, "reexaminations", fault.what(), "try again");
    }
    const std::lock_guard lock(mutex_);
    if (!finished) {
        progress_.state = State::kFailed;
        progress_.problem = finished.error();
        return;
    }
    progress_.state = finished->stopped ? State::kStopped : State::kDone;
    progress_.up_to_date = finished->up_to_date;
    progress_.same = finished->same;
    progress_.unknown = finished->unknown;
    if (auto noted = note_review(app->house.current()->packs); !noted) {
        progress_.state = State::kFailed;
        progress_.problem = noted.error();
    }
}

}  // namespace footring::server
