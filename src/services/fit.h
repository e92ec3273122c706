// services/fit.h - which piece may stand at which place, and why. No I/O.
//   A piece may serve when it is of a form of the line, when the odds that it is of one of the service's
//   treatments, or of a treatment that looks the same at that form (a twin), reach the least odds of the service,
//   when its grade, wear and faults are within the service's choices, when its trade size agrees, and when it is
//   not refused. What was not looked at does not bar it, but for the size where there are several. A piece that is
//   insisted on has only to be of a form of the service.
//   Sizes: a line takes one trade size of a form, of what one has as of what is bought. Where the shape's sizes are
//   recorded with lengths, a piece is of the nearest one within the tolerance; where none has a length, measured
//   pieces are sorted by length and parted where neighbours differ by more than the tolerance.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "base/settings.h"
#include "book/book.h"
#include "looks/resolve.h"
#include "naming/answer.h"
#include "services/plan.h"

namespace footring::services {

// What a piece is, as far as is known.
struct Odds {
    std::vector<std::pair<book::Ref<book::Treatment>, double>> treatments;
    double second = 0;     // chance that it is second-grade ware
    bool decided = false;  // by the person: then one treatment, or none (unlisted, elsewhere)
};
struct Owned {
    std::string id;
    std::optional<book::Ref<book::Form>> form;
    std::optional<looks::Wear> wear;
    std::optional<looks::Faults> faults;
    std::optional<double> length_mm;
    Odds odds;
};
// `treatment` absent: decided to be unlisted or from elsewhere. `grade` empty: as `answer` has it.
Odds odds_of(const naming::Answer& answer);
Odds decided_odds(std::optional<book::Ref<book::Treatment>> treatment, std::string_view grade,
                  const naming::Answer& answer);
Owned owned(std::string id, const looks::Piece&, const looks::Findings&, Odds);

enum class State : std::uint8_t { kFilled, kInterchangeable, kDoubtful };
std::string_view name_of(State);  // "filled", ...

struct Fit {
    std::uint32_t service = 0, line = 0;
    State state = State::kFilled;
    std::uint32_t size = 0;  // index into sizes_at() of the line, which holds pieces of one
    bool insisted = false;
    bool free_size = false;  // insisted on: may stand beside any size
    double odds = 0;
    friend bool operator==(const Fit&, const Fit&) = default;
};
// A form in one trade size that a line could be filled with: some piece is of it, or it was made.
struct LineSize {
    book::Ref<book::Form> form;
    std::string trade_size;           // as recorded; empty: none is
    std::optional<double> length_mm;  // as recorded, or else the middle of what was measured
    std::vector<book::Ref<book::Treatment>>
        treatments;  // of the service, that were made in it; empty: never bought
    int pieces = 0;  // that are of it and may stand at the line
};
std::string size_words(const LineSize&);  // "9 in", "about 250 mm"; empty: nothing is known of it

// Why a piece may, or may not, stand at one line of a service.
struct Why {
    std::optional<std::uint32_t> line;  // absent: it is of the whole service, which has no such line
    bool serves = false;
    State state = State::kFilled;
    double odds = 0;
    std::string sentence;
};

class Fitting {
  public:
    // Keeps references to all but the settings.
    Fitting(const book::Book&, const Plan&, std::span<const Owned>, const Settings&);

    const book::Book& book() const { return book_; }
    const Plan& plan() const { return plan_; }
    std::span<const Owned> pieces() const { return pieces_; }
    // Ordered by service and line; empty: it fits nowhere.
    const std::vector<Fit>& of(std::size_t piece) const { return fits_[piece]; }
    // Insistence that cannot be, each named.
    const std::vector<Problem>& problems() const { return problems_; }
    std::size_t sizes(std::uint32_t service, std::uint32_t line) const;  // how many sizes its pieces have
    // Those, and all others in which the service's treatments were made for the line.
    const std::vector<LineSize>& sizes_at(std::uint32_t service, std::uint32_t line) const;

    // Each line of its form; one sentence for the whole service when it has no such line.
    std::vector<Why> why(std::size_t piece, std::uint32_t service) const;
    // The service's treatments and those that look the same at the form, in the order of the Book.
    const std::vector<std::uint32_t>& alike(std::uint32_t service, book::Ref<book::Form> form) const;
    const Owned* piece(std::string_view id) const;

  private:
    enum class Bar : std::uint8_t { kNone, kRefused, kOdds, kGrade, kWear, kFaults, kSize, kUnmeasured, kNotMade };
    struct Judged {
        Bar bar = Bar::kNone;
        double odds = 0;
        State state = State::kFilled;
        std::uint32_t best = 0;  // most probable of the treatments alike
        std::uint32_t size = 0;  // of Sizes::named, when they are recorded
        bool recorded_size = false;
    };
    struct Sizes {                                                // of a shape's form, as recorded
        std::vector<std::pair<std::string, double>> with_length;  // trade size, mm
        std::size_t rows = 0;
    };
    Judged judge(std::size_t piece, std::uint32_t service, std::uint32_t line) const;
    const Sizes& sizes_of(std::uint32_t treatment, book::Ref<book::Form>) const;
    using At = std::pair<std::uint32_t, std::uint32_t>;  // service, line
    void list_made_sizes();
    std::uint32_t size_number(At, book::Ref<book::Form>, const std::pair<std::string, double>& recorded);
    void fit_all();
    void sort_sizes();
    void check_insistence();
    std::string sentence(std::size_t piece, std::uint32_t service, std::uint32_t line, const Judged&) const;
    std::string treatment_words(std::uint32_t) const;

    const book::Book& book_;
    const Plan& plan_;
    std::span<const Owned> pieces_;
    Settings settings_;
    std::map<std::pair<std::uint32_t, std::uint32_t>, std::vector<std::uint32_t>> by_body_;  // shape, glaze
    mutable std::map<std::pair<std::uint32_t, std::uint32_t>, std::vector<std::uint32_t>> alike_;
    mutable std::map<std::pair<std::uint32_t, std::uint32_t>, Sizes> sizes_;  // shape, form
    std::map<std::string, std::size_t, std::less<>> at_;
    std::vector<std::set<std::string>> insist_, refuse_;  // by service
    std::vector<std::vector<Fit>> fits_;
    std::map<At, std::vector<LineSize>> line_sizes_;
    // Treatments of the service in forms of which no length is recorded: bought in the size that stands there.
    std::map<std::pair<At, std::uint32_t>, std::vector<book::Ref<book::Treatment>>> unsized_;
    std::vector<Problem> problems_;
};

// Whether nothing that can be seen at the form tells two treatments apart: shape, glaze, ornaments with their
// shares.
bool look_alike(const book::Book&, book::Ref<book::Treatment>, book::Ref<book::Treatment>, book::Ref<book::Form>);
std::string called(const book::Book&, book::Ref<book::Treatment>);  // "117 Fern pair with rosette"

}  // namespace footring::services
