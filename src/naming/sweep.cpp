// SPDX-License-Identifier: Apache-2.0
#include "naming/sweep.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstring>
#include <numeric>
#include <string>
#include <unordered_map>

#include "naming/likelihood.h"

namespace footring::naming {

namespace {

// Functions that the loader takes in the version for the widest registers of the machine. It asks which that is
// before the thread sanitizer is awake, which then falls over.
#ifdef __SANITIZE_THREAD__
#define FOOTRING_WIDEST
#else
#define FOOTRING_WIDEST [[gnu::target_clones("avx2", "default")]]
#endif

using Column = std::vector<double>;  // P(look | row), for every row, then every body, then elsewhere

// Column by column products, eight at a time; __restrict lets the compiler use the widest registers of the machine.
FOOTRING_WIDEST void multiply(const double* __restrict a, const double* __restrict b, double* __restrict out,
                              std::size_t n) {
    for (std::size_t i = 0; i < n; ++i) out[i] = a[i] * b[i];
}

FOOTRING_WIDEST double sum(const double* values, std::size_t n) {
    double lane[8] = {};
    std::size_t i = 0;
    for (; i + 8 <= n; i += 8)
        for (std::size_t k = 0; k < 8; ++k) lane[k] += values[i + k];
    for (; i < n; ++i) lane[0] += values[i];
    return ((lane[0] + lane[1]) + (lane[2] + lane[3])) + ((lane[4] + lane[5]) + (lane[6] + lane[7]));
}

// The indices of values that reach `least`, appended. Most blocks of sixteen hold none and are passed over at once.
FOOTRING_WIDEST void at_least(const double* values, std::size_t n, double least, std::vector<std::uint32_t>& out) {
    constexpr std::size_t kBlock = 16;
    std::size_t i = 0;
    for (; i + kBlock <= n; i += kBlock) {
        double most = values[i];
        for (std::size_t k = 1; k < kBlock; ++k) most = most > values[i + k] ? most : values[i + k];
        if (most < least) continue;
        for (std::size_t k = i; k < i + kBlock; ++k)
            if (values[k] >= least) out.push_back(static_cast<std::uint32_t>(k));
    }
    for (; i < n; ++i)
        if (values[i] >= least) out.push_back(static_cast<std::uint32_t>(i));
}

// A piece in the order of the sweep: its looks packed into one number, the first look highest.
struct Queued {
    std::uint64_t key;
    std::uint32_t piece;
};

// By key, byte after byte from the lowest; bytes that all keys share are passed over.
void sort_by_key(std::vector<Queued>& places) {
    std::vector<Queued> other(places.size());
    for (int shift = 0; shift < 64; shift += 8) {
        std::array<std::size_t, 257> begin{};
        for (const Queued& p : places) ++begin[(p.key >> shift & 255) + 1];
        if (std::ranges::find(begin, places.size()) != begin.end()) continue;
        std::partial_sum(begin.begin(), begin.end(), begin.begin());
        for (const Queued& p : places) other[begin[p.key >> shift & 255]++] = p;
        places.swap(other);
    }
}

// Every look met so far, as a column. A piece becomes a short list of column numbers.
class Columns {
  public:
    explicit Columns(const FormView::Tables& t) : t_(t), by_value_(book::kPlaces) {
        prior_.reserve(width());
        prior_.insert(prior_.end(), t.prior.begin(), t.prior.end());
        for (const Body& b : t.bodies) prior_.push_back(t.unlisted_prior * b.frequency);
        prior_.push_back(t.elsewhere_prior);
        for (auto& place : by_value_) place.resize(t.book->ornaments.size() + 2);
    }
    std::size_t width() const { return t_.rows() + t_.bodies.size() + 1; }
    const Column& prior() const { return prior_; }
    const Column& operator[](std::uint32_t id) const { return columns_[id]; }
    std::size_t count() const { return columns_.size(); }

    // The columns of one piece, in an order that is the same for all pieces.
    void list(const looks::Findings& f, std::vector<std::uint32_t>& out) {
        out.clear();
        if (f.shape) out.push_back(of_shape(*f.shape));
        if (f.glaze) out.push_back(of_glaze(*f.glaze));
        if (f.faults || f.mark || !f.date_code.empty()) out.push_back(of_era(f));
        if (f.number) out.push_back(of_number(*f.number));
        if (f.ornaments.empty()) return;
        std::array<const looks::OrnamentSighting*, book::kPlaces> one{};
        bool simple = f.wear.has_value();
        for (const auto& look : f.ornaments) {
            auto& slot = one[static_cast<std::size_t>(look.place)];
            simple = simple && slot == nullptr;
            slot = &look;
        }
        if (!simple) {
            out.push_back(of_places_together(f));
            return;
        }
        for (const auto* look : one)
            if (look != nullptr && t_.place[static_cast<std::size_t>(look->place)].recorded())
                out.push_back(of_place(*look, *f.wear));
    }

  private:
    struct Known {
        double sure;
        looks::Wear wear;
        std::uint32_t id;
    };

    std::uint32_t add(Column column) {
        columns_.push_back(std::move(column));
        return static_cast<std::uint32_t>(columns_.size() - 1);
    }

    template <class Of>
    std::uint32_t remembered(const std::string& key, Of&& make) {
        const auto [found, fresh] = by_text_.try_emplace(key, 0);
        if (fresh) found->second = add(make());
        return found->second;
    }

    template <class OfRow, class OfBody>
    Column fill(OfRow&& of_row, OfBody&& of_body, double elsewhere) const {
        Column c(width());
        for (std::size_t r = 0; r < t_.rows(); ++r) c[r] = of_row(r);
        for (std::size_t b = 0; b < t_.bodies.size(); ++b) c[t_.rows() + b] = of_body(t_.bodies[b]);
        c.back() = elsewhere;
        return c;
    }

    static std::string key(char kind, double sure, std::size_t what) {
        std::string k(1 + sizeof sure + sizeof what, kind);
        std::memcpy(k.data() + 1, &sure, sizeof sure);
        std::memcpy(k.data() + 1 + sizeof sure, &what, sizeof what);
        return k;
    }

    std::uint32_t of_shape(const looks::Sighting<book::Shape>& look) {
        return remembered(key('s', look.sure, std::get<book::Ref<book::Shape>>(look.value).at), [&] {
            const auto given = shape_factor(t_, look);
            return fill([&](std::size_t r) { return given[t_.shape[r]]; },
                        [&](const Body& b) { return given[b.shape]; },
                        std::inner_product(given.begin(), given.end(), t_.shape_frequency.begin(), 0.0));
        });
    }
    std::uint32_t of_glaze(const looks::Sighting<book::Glaze>& look) {
        return remembered(key('g', look.sure, std::get<book::Ref<book::Glaze>>(look.value).at), [&] {
            const auto given = glaze_factor(t_, look);
            return fill([&](std::size_t r) { return given[t_.glaze[r]]; },
                        [&](const Body& b) { return b.glaze == kNone ? given.back() : given[b.glaze]; },
                        std::inner_product(given.begin(), given.end(), t_.glaze_frequency.begin(), 0.0));
        });
    }
    std::uint32_t of_number(const looks::NumberSighting& look) {
        return remembered(key('n', look.sure, 0) + look.pattern.value_or(std::string(1, '\0')), [&] {
            const NumberReading reading = read_number(t_, look);
            const auto numbered = [&](std::uint32_t context) { return t_.contexts[context].numbered; };
            Column by_class;
            double mean = 0;
            for (const NumberClass& c : t_.number_classes) {
                by_class.push_back(reading.given(c.number, numbered(c.context)));
                mean += c.frequency * by_class.back();
            }
            return fill([&](std::size_t r) { return by_class[t_.number[r]]; },
                        [&](const Body& b) { return reading.given(kNone, numbered(t_.eras[b.era].context)); },
                        mean);
        });
    }
    std::uint32_t of_era(const looks::Findings& f) {
        std::string k = key('e', f.mark ? f.mark->sure : 0, f.faults ? 1 + static_cast<std::size_t>(*f.faults) : 0);
        if (f.mark) {
            const auto* mark = std::get_if<book::Ref<book::Mark>>(&f.mark->value);
            k += std::to_string(f.mark->value.index()) + ":" + (mark ? std::to_string(mark->at) : "");
        }
        return remembered(k + "|" + f.date_code, [&] {
            const EraEvidence evidence(t_, f);
            Column given;
            double mean = 0;
            for (std::uint32_t e = 0; e < t_.eras.size(); ++e) {
                given.push_back(evidence.given(e));
                mean += t_.eras[e].frequency * given.back();
            }
            return fill([&](std::size_t r) { return given[t_.era[r]]; },
                        [&](const Body& b) { return given[b.era]; }, mean);
        });
    }

    Column place_column(std::size_t p, const std::vector<double>& seen, looks::Wear wear) const {
        const PlaceTable& place = t_.place[p];
        const auto given = given_motif(place, seen, static_cast<book::Place>(p), wear, t_.settings);
        const double mean = mean_over_treatments(place, given);
        return fill([&](std::size_t r) { return given[t_.motif[p][r]]; }, [&](const Body&) { return mean; }, mean);
    }

    // The way that most looks go: one look at a place, wear known. Found without hashing.
    std::uint32_t of_place(const looks::OrnamentSighting& look, looks::Wear wear) {
        const auto p = static_cast<std::size_t>(look.place);
        const auto* ornament = std::get_if<book::Ref<book::Ornament>>(&look.value);
        const std::size_t value = ornament != nullptr ? 2 + ornament->at : look.value.index();
        auto& known = by_value_[p][value];
        for (const Known& k : known)
            if (k.sure == look.sure && k.wear == wear) return k.id;
        const std::uint32_t id = add(place_column(p, seen_given_visible(t_.place[p], look), wear));
        known.push_back({look.sure, wear, id});
        return id;
    }

    // Several looks at one place, or a wear that is summed out: all places in one column.
    std::uint32_t of_places_together(const looks::Findings& f) {
        std::vector<std::string> parts;
        for (const auto& look : f.ornaments) {
            const auto* ornament = std::get_if<book::Ref<book::Ornament>>(&look.value);
            const std::size_t value = ornament != nullptr ? 2 + ornament->at : look.value.index();
            parts.push_back(key(static_cast<char>('A' + static_cast<int>(look.place)), look.sure, value));
        }
        std::ranges::sort(parts);
        std::string k = f.wear ? std::to_string(static_cast<int>(*f.wear)) : "?";
        for (const auto& part : parts) k += part;
        return remembered(k, [&] {
            const auto seen = seen_by_place(t_, f);
            Column all(width(), 0.0);
            for (int w = 0; w < 4; ++w) {
                if (f.wear && static_cast<int>(*f.wear) != w) continue;
                Column product(width(), f.wear ? 1.0 : 0.25);
                for (std::size_t p = 0; p < book::kPlaces; ++p) {
                    if (seen[p].empty()) continue;
                    const Column one = place_column(p, seen[p], static_cast<looks::Wear>(w));
                    for (std::size_t i = 0; i < product.size(); ++i) product[i] *= one[i];
                }
                for (std::size_t i = 0; i < all.size(); ++i) all[i] += product[i];
            }
            return all;
        });
    }

    const FormView::Tables& t_;
    Column prior_;
    std::vector<Column> columns_;
    std::unordered_map<std::string, std::uint32_t> by_text_;
    std::vector<std::vector<std::vector<Known>>> by_value_;  // by place, by value, for of_place
};

}  // namespace

void sweep(const FormView& view, std::span<const looks::Findings> pieces,
           const std::function<void(std::size_t, const Odds&)>& each) {
    const FormView::Tables& t = view.tables();
    Columns columns(t);
    constexpr std::size_t kAtOnce = 1 << 20;  // pieces sorted together: bounds the memory of their lists
    for (std::size_t begin = 0; begin < pieces.size(); begin += kAtOnce) {
        const std::size_t count = std::min(kAtOnce, pieces.size() - begin);
        std::vector<std::uint32_t> flat, one;                       // the looks of all pieces, one after the other
        std::vector<std::pair<std::uint32_t, std::uint32_t>> part;  // where in flat, how many
        part.reserve(count);
        std::size_t longest = 0;
        for (std::size_t i = 0; i < count; ++i) {
            columns.list(pieces[begin + i], one);
            part.emplace_back(static_cast<std::uint32_t>(flat.size()), static_cast<std::uint32_t>(one.size()));
            flat.insert(flat.end(), one.begin(), one.end());
            longest = std::max(longest, one.size());
        }
        const auto looks_of = [&](std::uint32_t i) {
            return std::span(flat).subspan(part[i].first, part[i].second);
        };
        const auto bits = static_cast<std::size_t>(std::bit_width(columns.count()));
        std::vector<Queued> order(count);
        for (std::uint32_t i = 0; i < count; ++i) {
            std::uint64_t key = 0;
            const auto looks = looks_of(i);
            for (std::size_t k = 0; k < longest && (k + 1) * bits <= 64; ++k)
                key = key << bits | (k < looks.size() ? looks[k] + 1 : 0);
            order[i] = {key, i};
        }
        sort_by_key(order);
        if (longest * bits > 64)  // looks that found no room in the key
            std::ranges::stable_sort(order, [&](const Queued& a, const Queued& b) {
                if (a.key != b.key) return a.key < b.key;
                return std::ranges::lexicographical_compare(looks_of(a.piece), looks_of(b.piece));
            });

        const std::size_t width = columns.width();
        std::vector<Column> level(1, columns.prior());  // level[k]: prior times the first k looks
        std::span<const std::uint32_t> before;
        Odds odds;
        bool fresh = true;
        std::vector<double> by_treatment;
        std::vector<std::uint32_t> shown;
        for (const auto& [key, i] : order) {
            const auto now = looks_of(i);
            std::size_t same = 0;
            while (same < now.size() && same < before.size() && now[same] == before[same]) ++same;
            if (fresh || same < now.size() || now.size() != before.size()) {
                while (level.size() <= now.size()) level.emplace_back(width);
                for (std::size_t k = same; k < now.size(); ++k)
                    multiply(level[k].data(), columns[now[k]].data(), level[k + 1].data(), width);
                const double* mass = level[now.size()].data();
                const double total = sum(mass, width);
                odds.treatments.clear();
                odds.open = {};
                if (total > 0) {
                    const double scale = 1 / total;
                    odds.open.unlisted = sum(mass + t.rows(), t.bodies.size()) * scale;
                    odds.open.elsewhere = mass[width - 1] * scale;
                    if (t.form || t.book->forms.empty()) {  // a row is a treatment
                        const double least = std::max(t.settings.least_shown * total, 1e-300);
                        shown.clear();
                        at_least(mass, t.rows(), least, shown);
                        for (const std::uint32_t r : shown)
                            odds.treatments.emplace_back(book::Ref<book::Treatment>{t.treatment[r]},
                                                         mass[r] * scale);
                    } else {
                        by_treatment.assign(t.book->treatments.size(), 0.0);
                        for (std::size_t r = 0; r < t.rows(); ++r) by_treatment[t.treatment[r]] += mass[r] * scale;
                        for (std::uint32_t k = 0; k < by_treatment.size(); ++k)
                            if (by_treatment[k] > 0 && by_treatment[k] >= t.settings.least_shown)
                                odds.treatments.emplace_back(book::Ref<book::Treatment>{k}, by_treatment[k]);
                    }
                } else {
                    odds.open.elsewhere = 1;  // as examine() says of what nothing allows
                }
                fresh = false;
                before = now;
            }
            each(begin + i, odds);
        }
    }
}

}  // namespace footring::naming
