// store/sql_session.h - the statements of the store in standard SQL, on one session, within one transaction.
//   Statements that a large write repeats are prepared once and kept; destroy the SqlSession before the commit.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <soci/soci.h>

#include <map>
#include <memory>
#include <tuple>

#include "store/sql_tables.h"

namespace footring::store {

// The greatest is_private that is seen.
inline int most_hidden(Sight sight) { return sight == Sight::kReaders ? 0 : 1; }

class SqlSession final : public Writer {
  public:
    SqlSession(soci::session& sql, const Dialect& dialect);
    ~SqlSession() override;
    SqlSession(const SqlSession&) = delete;
    SqlSession& operator=(const SqlSession&) = delete;

    std::optional<Entry> entry(Entity, const std::string& key) override;
    Found find(const Query&, const std::vector<std::string>& words) override;
    std::vector<Facet> facets(Sight) override;
    std::vector<std::pair<std::string, std::int64_t>> decided_per_treatment(Sight) override;
    std::vector<Entry> lots() override;
    std::vector<Entry> records(const std::string& kind) override;
    std::vector<std::string> pieces_in(const std::string& lot) override;
    std::vector<PhotoEntry> photos_of(const std::vector<std::string>& pieces) override;
    std::vector<std::string> pieces_with(const std::string& sha256) override;
    std::vector<std::string> photo_names() override;
    std::vector<std::pair<std::string, std::string>> photo_changes() override;
    std::optional<ReadingEntry> reading(const std::string& sha256) override;
    std::vector<PictureMade> pictures_made(const std::string& kind, Sight) override;
    std::vector<std::string> unread(const std::string& packs) override;
    std::int64_t seconds_now() override;
    std::optional<TaskRow> task(const std::string& sha256) override;
    std::vector<TaskRow> due_tasks(std::int64_t now, int most) override;
    std::vector<TaskRow> dead_tasks() override;
    std::array<std::int64_t, 3> count_tasks(std::int64_t now) override;
    std::optional<ChangeRow> change(std::int64_t id) override;
    std::optional<ChangeRow> newest_change(Entity, const std::string& key) override;
    std::int64_t state(Entity, const std::string& key) override;
    std::vector<ChangeRow> changes_in(std::int64_t batch) override;
    std::vector<ChangeRow> changes_of(Entity, const std::string& key) override;
    std::vector<ChangeRow> recent(int limit) override;
    std::int64_t newest_change_id() override;
    std::optional<BatchRow> batch(std::int64_t id) override;
    std::optional<std::int64_t> last_undoable() override;
    std::optional<Account> account(const std::string& name) override;
    std::vector<Account> accounts() override;
    std::optional<Session> session(const std::string& digest) override;
    std::vector<Session> sessions_of(const std::string& account) override;
    std::vector<Noted> noted(const NotedQuery&) override;

    void expect_pieces(std::size_t) override;
    void save(const PieceEntry&) override;
    void save_lot(const Entry&) override;
    void save(const PhotoEntry&) override;
    void save(const ReadingEntry&) override;
    void save(const RecordEntry&) override;
    void add(const TaskRow&) override;
    bool change_task(const TaskRow&, std::int64_t lease) override;
    bool erase_task(const std::string& sha256, std::int64_t lease) override;
    void erase(Entity, const std::string& key) override;
    void erase_reading(const std::string& sha256) override;
    std::int64_t next_change() override;
    void append(const ChangeRow&) override;
    std::int64_t open_batch(const std::string& when, std::int64_t undoes) override;
    void set_undone_by(std::int64_t batch, std::int64_t by) override;
    std::int64_t counter(const std::string& name) override;
    void set_counter(const std::string& name, std::int64_t value) override;
    void save(const Account&) override;
    void erase_account(const std::string& name) override;
    void save(const Session&) override;
    void erase_session(const std::string& digest) override;
    void erase_sessions_until(const std::string& moment) override;
    void append(const Noted&) override;
    void finish();  // before the commit

  private:
    struct Prepared;
    static constexpr const char* kNoId = "\n";     // no id has control characters
    std::int64_t piece_no(const std::string& id);  // 0: there is none
    std::optional<Found> look_along(const Query&, const std::vector<std::string>& words);
    std::optional<Found> newest_first(const Query&, const std::vector<std::string>& words);
    std::vector<Entry> rows_of(const std::vector<std::int64_t>& numbers);
    std::int64_t how_many(const Query&, const std::vector<std::string>& words);
    void count(const PieceEntry&, int by);  // one more, or one less, that has its values
    void keep_counts();

    soci::session& sql_;
    const Dialect& dialect_;
    std::int64_t last_change_ = 0;  // 0: not asked yet
    bool nothing_before_ = false;   // no record had ever changed when this began
    std::string absent_ = kNoId;    // the piece that was asked for last and is not there
    // How many more pieces have a value of a field, private or not; kept at the end, since many have the same.
    std::map<std::tuple<std::string, std::string, bool>, std::int64_t> counted_;
    std::vector<std::string> set_aside_;  // statements that bring back what a large write does without
    std::unique_ptr<Prepared> prepared_;
};

}  // namespace footring::store
