// store/sql_tables.h - Tables in a database that speaks SQL, through SOCI. The statements are standard SQL with
// bound
//   parameters; what a database does in its own way is asked of its Dialect.
//   The tables are those of docs/store.md; a Dialect's migrations create them.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <soci/soci.h>

#include <memory>
#include <string>
#include <vector>

#include "store/tables.h"

namespace footring::store {

class Dialect {
  public:
    virtual ~Dialect() = default;
    virtual void open(soci::session&, bool for_writing) const = 0;
    virtual void begin(soci::session&, bool for_writing) const = 0;
    // A condition on piece.no with the parameter :words; the argument is made of query_words().
    virtual std::string words_condition() const = 0;
    virtual std::string words_argument(const std::vector<std::string>& words) const = 0;
    // Statements with the parameters :no and :words (the last one only :no).
    virtual std::string insert_words() const = 0;
    virtual std::string update_words() const = 0;
    virtual std::string delete_words() const = 0;
    // What an exception of the database means to a person.
    virtual Problem problem_of(const std::exception&) const = 0;
};

// One session writes, `readers` read. Throws what the Dialect throws while it opens them.
std::unique_ptr<Tables> make_sql_tables(std::unique_ptr<Dialect>, std::size_t readers);

}  // namespace footring::store
