// store/sql_tables.h - Tables in a database that speaks SQL, through SOCI. The statements are standard SQL with
// bound
//   parameters; what a database does in its own way is asked of its Dialect.
//   The tables are those of docs/store.md; a Dialect's migrations create them.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <soci/soci.h>

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "store/tables.h"

namespace footring::store {

class Dialect {
  public:
    virtual ~Dialect() = default;
    virtual void open(soci::session&, bool for_writing) const = 0;
    virtual void begin(soci::session&, bool for_writing) const = 0;  // for writing: alone, until it ends
    virtual void begin_aside(soci::session& sql, const std::string& name) const;  // see Tables::write_aside()
    virtual void rollback(soci::session&) const;
    // Takes away what slows many new rows of `piece` and `change` down, and says with which statements it comes
    // back before the commit. `all`: there is no row in them yet. Only where readers do not wait meanwhile.
    virtual std::vector<std::string> set_aside(soci::session&, bool /*all*/) const { return {}; }
    virtual void tell_others(soci::session&) const {}  // that this transaction changed something; before its end
    // After a commit, while nobody else writes. What cannot be done now is tried after the next one: throws
    // nothing.
    virtual void tidy(soci::session&) const {}
    // Rings `bell` whenever another program changed something, for as long as the answer lives; null: there is
    // none.
    virtual std::shared_ptr<void> listen(Bell&) const { return nullptr; }
    // The first place of `what` in `text`, from 1; 0: it is not in it.
    virtual std::string position(std::string_view text, std::string_view what) const = 0;
    // What `text`, a column of unlimited length, is sorted by.
    virtual std::string sort_by(std::string_view text) const { return std::string(text); }
    // A condition on piece.no with the parameter :words; the argument is made of query_words().
    virtual std::string words_condition() const = 0;
    virtual std::string words_argument(const std::vector<std::string>& words) const = 0;
    // The same for beginnings of the words, where finding those is quicker: what has the words is among what is
    // found.
    virtual std::string beginnings_argument(const std::vector<std::string>& words) const {
        return words_argument(words);
    }
    // A statement with the parameters :words and :most: the numbers and words of pieces that have the words and
    // were not changed since they were added, the newest first. `narrowed`: further conditions on the row p of
    // piece, or nothing.
    virtual std::string unchanged_with_words(std::string_view narrowed) const = 0;
    // Statements with the parameters :no and :words (the last one only :no).
    virtual std::string insert_words() const = 0;
    virtual std::string update_words() const = 0;
    virtual std::string delete_words() const = 0;
    // A table with the columns `no` and `words`, as text, of all that was inserted.
    virtual std::string all_words() const = 0;
    // An expression: the seconds of its clock, as a whole number.
    virtual std::string seconds_now() const = 0;
    // What an exception of the database means to a person.
    virtual Problem problem_of(const std::exception&) const = 0;
};

// One session writes, `readers` read. Throws what the Dialect throws while it opens them.
std::unique_ptr<Tables> make_sql_tables(std::unique_ptr<Dialect>, std::size_t readers);

}  // namespace footring::store
