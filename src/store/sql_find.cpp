// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <list>

#include "store/sql_prepared.h"
#include "store/words.h"

namespace footring::store {

using soci::into;
using soci::use;

namespace {

// Rows whose words are looked at before the index of words is asked: it takes a few milliseconds, and finds the
// first page of whatever one piece in thirty has. The index would gather all of its pieces before the first.
constexpr int kLookedAt = 3000;

// A statement whose conditions depend on what was asked; every value is bound, none becomes part of the text.
class Asking {
  public:
    explicit Asking(soci::session& sql) : statement_(sql) {}
    void where(const std::string& condition, const char* name, std::string value) {
        values_.push_back(std::move(value));
        bound_.emplace_back(name, &values_.back());
        (conditions_ += conditions_.empty() ? " WHERE " : " AND ") += condition;
    }
    void where(const std::string& condition) {
        (conditions_ += conditions_.empty() ? " WHERE " : " AND ") += condition;
    }
    template <class T>
    void bind(const char* name, const T& value) {
        statement_.exchange(use(value, name));
    }
    template <class T>
    void get(T& into_this) {
        statement_.exchange(into(into_this));
    }
    void run(const std::string& before, const std::string& after) {
        for (const auto& [name, value] : bound_) statement_.exchange(use(*value, name));
        statement_.alloc();
        statement_.prepare(before + conditions_ + after);
        statement_.define_and_bind();
        statement_.execute(false);
    }
    bool next() { return statement_.fetch(); }

  private:
    soci::statement statement_;
    std::list<std::string> values_;  // stays where it is: SOCI keeps addresses
    std::vector<std::pair<std::string, const std::string*>> bound_;
    std::string conditions_;
};

constexpr const char* kForReaders = "is_private = 0";

std::string sort_column(Query::Sort sort, const Dialect& dialect) {
    switch (sort) {
        case Query::Sort::kChanged:
            return "revision";
        case Query::Sort::kId:
            return "id_key";
        case Query::Sort::kForm:
            return dialect.sort_by("form");
        case Query::Sort::kShape:
            return dialect.sort_by("shape");
        case Query::Sort::kNumber:
            return "number_key";
        case Query::Sort::kLot:
            return "lot_key";
        case Query::Sort::kPlace:
            return "place_key";
    }
    return "revision";
}

// Hands each field that pieces are filtered and counted by, but for `decided`, with its value to `take`. In the
// order in which facets are told.
template <class T, class Take>
void each_field(const T& of, const Take& take) {
    take("form", of.form);
    take("shape", of.shape);
    take("lot", of.lot);
    take("place", of.place);
    take("treatment", of.treatment);
    take("grade", of.grade);
}

struct Filter {
    const char* field;
    std::string value;
};
constexpr const char *kDecided = "decided", *kYes = "yes", *kNo = "no";

std::vector<Filter> filters_of(const Query& q) {
    std::vector<Filter> out;
    each_field(q, [&](const char* field, const std::string& value) {
        if (!value.empty()) out.push_back({field, value});
    });
    if (q.decided) out.push_back({kDecided, *q.decided ? kYes : kNo});
    return out;
}

void narrow(Asking& ask, const Query& q, const std::vector<std::string>& words, const Dialect& dialect) {
    each_field(q, [&](const char* column, const std::string& value) {
        if (!value.empty()) ask.where(fmt::format("{0} = :{0}", column), column, value);
    });
    if (q.decided) ask.where(*q.decided ? "decided = 1" : "decided = 0");
    if (q.sight == Sight::kReaders) ask.where(kForReaders);
    if (!words.empty()) ask.where(dialect.words_condition(), "words", dialect.words_argument(words));
}

// A piece, and what the newest first are sorted by.
struct Hit {
    std::int64_t revision = 0, no = 0;
    friend auto operator<=>(const Hit&, const Hit&) = default;
};

// In the order in which facets are told.
constexpr std::string_view kFacetFields[] = {"form", "shape", "lot", "place", "treatment", "grade", "decided"};

}  // namespace

// The first page as far as it is found by looking at one piece after another. Absent: too few of those looked at
// answer.
std::optional<Found> SqlSession::look_along(const Query& query, const std::vector<std::string>& words) {
    const std::size_t wanted = static_cast<std::size_t>(query.offset) + static_cast<std::size_t>(query.limit);
    if (wanted > kLookedAt / 2) return std::nullopt;
    Asking ask(sql_);
    narrow(ask, query, {}, dialect_);
    std::int64_t no = 0;
    std::string held;
    ask.get(no);
    ask.get(held);
    ask.bind("most", kLookedAt);
    const std::string by = sort_column(query.sort, dialect_), direction = query.descending ? "DESC" : "ASC";
    ask.run(
        fmt::format("SELECT no, (SELECT w.words FROM {} w WHERE w.no = piece.no) FROM piece", dialect_.all_words()),
        fmt::format(" ORDER BY {0} {1}, no {1} LIMIT :most", by, direction));
    std::vector<std::int64_t> hits;
    int looked_at = 0;
    while (hits.size() <= wanted && ask.next()) {
        ++looked_at;
        if (has_words(held, words)) hits.push_back(no);
    }
    const bool more = hits.size() > wanted;
    if (!more && looked_at == kLookedAt) return std::nullopt;
    Found found;
    found.total = static_cast<std::int64_t>(more ? wanted : hits.size());
    found.more = more;
    if (more) hits.pop_back();
    hits.erase(hits.begin(), hits.begin() + std::min<std::ptrdiff_t>(query.offset, std::ssize(hits)));
    found.rows = rows_of(hits);
    return found;
}

// The newest that answer, when few pieces were changed after they had been added: those that were are looked at one
// after another, and the rest comes from the index of words in the order in which it was added, which is then that
// of its last change. Absent: a piece that was changed before those looked at may belong on the page.
std::optional<Found> SqlSession::newest_first(const Query& query, const std::vector<std::string>& words) {
    if (query.sort != Query::Sort::kChanged || !query.descending || !filters_of(query).empty()) return std::nullopt;
    const std::size_t wanted = static_cast<std::size_t>(query.offset) + static_cast<std::size_t>(query.limit);
    std::vector<Hit> hits;
    Hit hit;
    std::int64_t looked_down_to = 0;  // the revision of the last one looked at; 0: at all
    {
        Asking ask(sql_);
        narrow(ask, query, {}, dialect_);
        ask.where("revision <> no");
        std::string held;
        ask.get(hit.no);
        ask.get(hit.revision);
        ask.get(held);
        ask.bind("most", kLookedAt);
        ask.run(fmt::format("SELECT no, revision, (SELECT w.words FROM {} w WHERE w.no = piece.no) FROM piece",
                            dialect_.all_words()),
                " ORDER BY revision DESC LIMIT :most");
        int looked_at = 0;
        while (ask.next()) {
            if (has_words(held, words)) hits.push_back(hit);
            if (++looked_at == kLookedAt) looked_down_to = hit.revision;
        }
    }
    std::size_t unchanged = 0;
    const auto look_at_unchanged = [&](const std::string& argument, int most) {
        int looked_at = 0;
        std::string held;
        soci::statement statement = (sql_.prepare << dialect_.unchanged_with_words(
                                         query.sight == Sight::kReaders ? "AND p.is_private = 0" : ""),
                                     use(argument, "words"), use(most, "most"), into(hit.no), into(held));
        statement.execute(false);
        while (unchanged <= wanted && statement.fetch()) {
            ++looked_at;
            if (!has_words(held, words)) continue;
            hit.revision = hit.no;
            hits.push_back(hit);
            ++unchanged;
        }
        return looked_at < most;
    };
    // What has the beginnings mostly has the words; where it does not, the words themselves are asked for.
    const std::size_t changed = hits.size();
    const std::string whole = dialect_.words_argument(words), begun = dialect_.beginnings_argument(words);
    const bool found_all = begun != whole && look_at_unchanged(begun, kLookedAt);
    if (!found_all && unchanged <= wanted) {
        hits.resize(changed);
        unchanged = 0;
        look_at_unchanged(whole, static_cast<int>(wanted) + 1);
    }
    std::ranges::sort(hits, std::greater<>());
    const bool more = hits.size() > wanted;
    if (more) hits.resize(wanted);
    const bool all_of_both = looked_down_to == 0 && unchanged <= wanted;
    if (!all_of_both && !more) return std::nullopt;
    if (looked_down_to != 0 && (hits.empty() || hits.back().revision < looked_down_to)) return std::nullopt;
    Found found;
    found.total = std::ssize(hits);
    found.more = more;
    std::vector<std::int64_t> numbers;
    for (std::size_t i = static_cast<std::size_t>(query.offset); i < hits.size(); ++i)
        numbers.push_back(hits[i].no);
    found.rows = rows_of(numbers);
    return found;
}

std::vector<Entry> SqlSession::rows_of(const std::vector<std::int64_t>& numbers) {
    std::vector<Entry> out;
    PieceByNo& by_no = prepared_->get(prepared_->piece_by_no, sql_);
    out.reserve(numbers.size());
    for (const std::int64_t no : numbers) out.push_back(by_no.run(no).value());
    return out;
}

std::int64_t SqlSession::how_many(const Query& query, const std::vector<std::string>& words) {
    std::int64_t total = 0;
    std::vector<Filter> values = filters_of(query);
    if (!words.empty() || values.size() > 1) {
        Asking ask(sql_);
        narrow(ask, query, words, dialect_);
        ask.get(total);
        ask.run("SELECT COUNT(*) FROM piece", "");
        ask.next();
        return total;
    }
    if (values.empty()) values = {{kDecided, kYes}, {kDecided, kNo}};  // every piece is decided or is not
    for (const auto& [name, value] : values) {
        std::int64_t pieces = 0;
        const std::string field = name;
        const int most = most_hidden(query.sight);
        sql_ << "SELECT CAST(COALESCE(SUM(pieces), 0) AS BIGINT) FROM facet WHERE field = :field AND value = "
                ":value AND "
                "is_private <= :most",
            use(field, "field"), use(value, "value"), use(most, "most"), into(pieces);
        total += pieces;
    }
    return total;
}

Found SqlSession::find(const Query& query, const std::vector<std::string>& words) {
    if (!query.counted && !words.empty() && query.limit > 0) {
        if (auto found = look_along(query, words)) return std::move(*found);
        if (auto found = newest_first(query, words)) return std::move(*found);
    }
    Found found;
    found.total = how_many(query, words);
    std::vector<std::int64_t> numbers;
    if (found.total > query.offset && query.limit > 0) {
        Asking page(sql_);
        narrow(page, query, words, dialect_);
        std::int64_t no = 0;
        page.get(no);
        page.bind("most", query.limit);
        page.bind("skipped", query.offset);
        const char* direction = query.descending ? "DESC" : "ASC";
        page.run("SELECT no FROM piece", fmt::format(" ORDER BY {0} {1}, no {1} LIMIT :most OFFSET :skipped",
                                                     sort_column(query.sort, dialect_), direction));
        while (page.next()) numbers.push_back(no);
    }
    found.rows = rows_of(numbers);
    return found;
}

std::vector<Facet> SqlSession::facets(Sight sight) {
    std::vector<Facet> all;
    Facet facet;
    const int most = most_hidden(sight);
    soci::statement statement =
        (sql_.prepare << "SELECT field, value, CAST(SUM(pieces) AS BIGINT) FROM facet WHERE "
                         "is_private <= :most GROUP BY field, value",
         use(most, "most"), into(facet.field), into(facet.value), into(facet.count));
    statement.execute(false);
    while (statement.fetch()) all.push_back(facet);
    const auto place = [](const Facet& f) { return std::ranges::find(kFacetFields, f.field) - kFacetFields; };
    std::ranges::sort(all, [&](const Facet& a, const Facet& b) {
        if (a.field != b.field) return place(a) < place(b);
        if (a.field == kDecided) return a.value > b.value;  // yes, no
        return a.count != b.count ? a.count > b.count : a.value < b.value;
    });
    return all;
}

std::vector<std::pair<std::string, std::int64_t>> SqlSession::decided_per_treatment(Sight sight) {
    std::vector<std::pair<std::string, std::int64_t>> out;
    std::string treatment;
    std::int64_t count = 0;
    const int most = most_hidden(sight);
    soci::statement statement =
        (sql_.prepare
             << "SELECT value, CAST(SUM(pieces) AS BIGINT) FROM facet WHERE field = 'treatment' AND value NOT "
                "IN ('unlisted', 'elsewhere') AND is_private <= :most GROUP BY value",
         use(most, "most"), into(treatment), into(count));
    statement.execute(false);
    while (statement.fetch()) out.emplace_back(treatment, count);
    std::ranges::sort(out);
    return out;
}

void SqlSession::count(const PieceEntry& piece, int by) {
    const auto add = [&](const char* field, const std::string& value) {
        if (!value.empty()) counted_[{field, value, piece.is_private}] += by;
    };
    each_field(piece, add);
    add(kDecided, piece.decided ? kYes : kNo);
}

void SqlSession::keep_counts() {
    bool fewer = false;
    for (const auto& [what, by] : counted_) {
        if (by == 0) continue;
        fewer |= by < 0;
        const auto& [field, value, is_private] = what;
        CountFacet& more =
            prepared_->get(prepared_->update_facet, sql_,
                           "UPDATE facet SET pieces = pieces + :pieces WHERE field = :field AND value = "
                           ":value AND is_private = :is_private");
        if (more.run(field, value, is_private, by)) continue;
        prepared_
            ->get(prepared_->insert_facet, sql_,
                  "INSERT INTO facet (field, value, is_private, pieces) VALUES (:field, :value, :is_private, "
                  ":pieces)")
            .run(field, value, is_private, by);
    }
    if (fewer) sql_ << "DELETE FROM facet WHERE pieces = 0";
    counted_.clear();
}

}  // namespace footring::store
