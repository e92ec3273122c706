// Programs solved with COIN-OR CBC. The only file that knows the solver.
//   CbcModel is used directly, with its cuts and heuristics set here, and not through CBC's command shell, which
//   reads the environment, installs signal handlers and keeps global state.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <CbcModel.hpp>  // before the rest of its kind, which lean on its declarations

#include <CbcCutGenerator.hpp>
#include <CbcEventHandler.hpp>
#include <CbcHeuristic.hpp>
#include <CbcHeuristicDiveCoefficient.hpp>
#include <CbcHeuristicDiveGuided.hpp>
#include <CbcHeuristicRINS.hpp>
#include <CglGomory.hpp>
#include <CglKnapsackCover.hpp>
#include <CglMixedIntegerRounding2.hpp>
#include <CglPreProcess.hpp>
#include <CglProbing.hpp>
#include <ClpSimplex.hpp>
#include <CoinError.hpp>
#include <CoinPackedMatrix.hpp>
#include <OsiClpSolverInterface.hpp>
#include <algorithm>
#include <chrono>
#include <cmath>

#include "services/program.h"

namespace footring::services {

namespace {

constexpr int kPasses = 5;
constexpr double kSame = 1e-7;   // numbers nearer than this are one
constexpr double kWorse = 1e-4;  // than the start: that still counts as reaching it
constexpr double kWhole = 1e-5;  // how far from whole the solver's whole numbers may be

using Clock = std::chrono::steady_clock;
double seconds_since(Clock::time_point then) { return std::chrono::duration<double>(Clock::now() - then).count(); }

// CBC clones its handler, so what it tells stands outside of it.
struct Watch {
    const Limits* limits;
    Progress progress;
    Clock::time_point began;
    double sign;
    bool stopped = false;
};

class Handler : public CbcEventHandler {
  public:
    explicit Handler(Watch* watch) : watch_(watch) {}
    CbcEventHandler* clone() const override { return new Handler(*this); }
    CbcAction event(CbcEvent) override {
        if (watch_->stopped) return stop;
        if (!watch_->limits->stop) return noAction;
        watch_->progress.nodes = model_->getNodeCount();
        watch_->progress.best = watch_->sign * model_->getObjValue();
        watch_->progress.bound = watch_->sign * model_->getBestPossibleObjValue();
        watch_->progress.seconds = seconds_since(watch_->began);
        if (watch_->limits->stop(watch_->progress)) watch_->stopped = true;
        return watch_->stopped ? stop : noAction;
    }

  private:
    Watch* watch_;
};

void load(OsiClpSolverInterface& solver, const Program& program, const Goal& goal,
          const std::vector<std::pair<const Goal*, double>>& kept) {
    const auto columns = program.columns.size();
    std::vector<int> at_row, at_column;
    std::vector<double> elements, row_low, row_high;
    const auto add = [&](const Terms& terms, double low, double high) {
        for (const auto& [column, coefficient] : terms) {
            at_row.push_back(static_cast<int>(row_low.size()));
            at_column.push_back(column);
            elements.push_back(coefficient);
        }
        row_low.push_back(low <= -kUnbounded ? -COIN_DBL_MAX : low);
        row_high.push_back(high >= kUnbounded ? COIN_DBL_MAX : high);
    };
    for (const Row& row : program.rows) add(row.terms, row.low, row.high);
    for (const auto& [earlier, value] : kept) {
        // Sums of money may be a rounding error short of what they were.
        const double slack = earlier->counts ? 0 : 1e-7 * std::max(1.0, std::abs(value));
        add(earlier->terms, earlier->most ? value - slack : -kUnbounded,
            earlier->most ? kUnbounded : value + slack);
    }
    CoinPackedMatrix matrix(true, at_row.data(), at_column.data(), elements.data(),
                            static_cast<CoinBigIndex>(elements.size()));
    matrix.setDimensions(static_cast<int>(row_low.size()), static_cast<int>(columns));
    std::vector<double> low(columns), high(columns), objective(columns, 0.0);
    for (std::size_t c = 0; c < columns; ++c) low[c] = program.columns[c].low, high[c] = program.columns[c].high;
    for (const auto& [column, value] : goal.terms)
        objective[static_cast<std::size_t>(column)] = goal.most ? -value : value;
    solver.loadProblem(matrix, low.data(), high.data(), objective.data(), row_low.data(), row_high.data());
    for (std::size_t c = 0; c < columns; ++c)
        if (program.columns[c].whole) solver.setInteger(static_cast<int>(c));
    solver.setObjSense(1);
    solver.messageHandler()->setLogLevel(0);
    solver.getModelPtr()->setLogLevel(0);
}

double value_of(const Terms& terms, const std::vector<double>& at) {
    double sum = 0;
    for (const auto& [column, value] : terms) sum += value * at[static_cast<std::size_t>(column)];
    return sum;
}

void strengthen(CbcModel& model) {
    CglProbing probing;
    probing.setMaxPass(1);
    probing.setMaxProbe(20);
    CglGomory gomory;
    gomory.setLimit(200);
    CglMixedIntegerRounding2 rounding;
    CglKnapsackCover cover;
    model.addCutGenerator(&probing, -1, "probing");
    model.addCutGenerator(&gomory, -98, "gomory");
    model.addCutGenerator(&rounding, -98, "rounding");
    model.addCutGenerator(&cover, -98, "cover");
    CbcRounding round(model);
    CbcHeuristicDiveCoefficient dive(model);
    CbcHeuristicDiveGuided guided(model);
    CbcHeuristicRINS neighbours(model);
    model.addHeuristic(&round, "rounding");
    model.addHeuristic(&dive, "dive");
    model.addHeuristic(&guided, "guided dive");
    model.addHeuristic(&neighbours, "neighbours");
}

// With its whole columns fixed the program is solved once more by the simplex method, whose answer is a corner: the
// columns of pieces, which the solver need not keep whole, are whole there (docs/services.md#the-program). Mostly
// the answer is such a corner already.
bool settle(const Program& program, const Goal& goal, const std::vector<std::pair<const Goal*, double>>& kept,
            std::vector<double>& values) {
    if (std::ranges::all_of(values, [](double v) { return std::abs(v - std::round(v)) < kSame; })) {
        for (double& v : values) v = std::round(v);
        return true;
    }
    OsiClpSolverInterface solver;
    load(solver, program, goal, kept);
    for (std::size_t c = 0; c < program.columns.size(); ++c)
        if (program.columns[c].whole) {
            const double fixed = std::round(values[c]);
            solver.setColBounds(static_cast<int>(c), fixed, fixed);
        }
    solver.setHintParam(OsiDoPresolveInInitial, false, OsiHintTry);
    solver.initialSolve();
    if (!solver.isProvenOptimal()) return false;
    values.assign(solver.getColSolution(), solver.getColSolution() + solver.getNumCols());
    return true;
}

struct Outcome {
    Reached reached;
    std::vector<double> values;
};

Expected<Outcome> solve_one(const Program& program, std::size_t at,
                            const std::vector<std::pair<const Goal*, double>>& kept, const Limits& limits,
                            const std::vector<double>& start, Clock::time_point began, bool& stopped) {
    const Goal& goal = program.goals[at];
    OsiClpSolverInterface solver;
    load(solver, program, goal, kept);
    solver.initialSolve();
    if (solver.isProvenPrimalInfeasible())
        return fail(ProblemCode::kBadInput, "services", "no allotment satisfies all that is asked for",
                    "take back something that you insist on");
    if (!solver.isProvenOptimal())
        return fail(ProblemCode::kOurFault, "services", "the solver gave up on the program",
                    "report this with the services and the pieces");
    const double sign = goal.most ? -1 : 1;
    Watch watch{&limits, {goal.name, at, program.goals.size(), 0, 0, 0, 0}, began, sign, false};
    Handler handler(&watch);
    // Most rows of a program are of classes with one place to go to: they go before the branching begins.
    CglPreProcess process;
    process.messageHandler()->setLogLevel(0);
    OsiSolverInterface* reduced = process.preProcess(solver, false, kPasses);
    if (reduced == nullptr)
        return fail(ProblemCode::kBadInput, "services", "no allotment satisfies all that is asked for",
                    "take back something that you insist on");
    reduced->messageHandler()->setLogLevel(0);
    reduced->resolve();
    CbcModel model(*reduced);
    model.messageHandler()->setLogLevel(0);
    model.setLogLevel(0);
    model.passInEventHandler(&handler);
    model.setMaximumNodes(limits.nodes);
    model.setMaximumSeconds(limits.seconds);
    model.setAllowableFractionGap(limits.gap);
    model.setAllowableGap(goal.counts ? 0.999 - 1e-4 : 1e-9);
    if (goal.counts) model.setCutoffIncrement(0.999);
    model.setIntegerTolerance(1e-7);
    model.setNumberThreads(0);
    model.setRandomSeed(1);
    strengthen(model);
    // What the goals before it left must be reached at least.
    if (!start.empty()) model.setCutoff(sign * value_of(goal.terms, start) + kWorse);
    model.branchAndBound();
    stopped = watch.stopped;

    Outcome out;
    if (model.bestSolution() != nullptr) {
        process.postProcess(*model.solver());
        out.values.assign(solver.getColSolution(), solver.getColSolution() + program.columns.size());
    } else {
        out.values = start;
    }
    if (out.values.empty()) {
        if (model.isProvenInfeasible())
            return fail(ProblemCode::kBadInput, "services", "no allotment satisfies all that is asked for",
                        "take back something that you insist on");
        return fail(ProblemCode::kBadInput, "services",
                    stopped ? "it was stopped before any allotment was found"
                            : "the limits were reached before any allotment was found",
                    stopped ? "let it run on" : "raise service_most_nodes or service_most_seconds");
    }
    if (!settle(program, goal, kept, out.values))
        return fail(ProblemCode::kOurFault, "services", "the solver's answer does not hold",
                    "report this with the services and the pieces");
    double bound = sign * model.getBestPossibleObjValue();
    out.reached = {goal.name, value_of(goal.terms, out.values), bound, Ending::kBest, model.getNodeCount()};
    if (goal.counts) {
        out.reached.value = std::round(out.reached.value);
        bound = goal.most ? std::floor(bound + kWhole) : std::ceil(bound - kWhole);
    }
    const bool ended = model.isProvenOptimal();
    if (ended && limits.gap == 0) bound = out.reached.value;
    // The bound never lies on the wrong side of what was found.
    out.reached.bound = goal.most ? std::max(bound, out.reached.value) : std::min(bound, out.reached.value);
    out.reached.ending = stopped                  ? Ending::kStopped
                         : out.reached.gap() == 0 ? Ending::kBest
                         : ended                  ? Ending::kWithinGap
                                                  : Ending::kLimit;
    return out;
}

}  // namespace

Expected<Solution> solve(const Program& program, const Limits& limits, const std::vector<double>& start) {
    const auto began = Clock::now();
    Solution out;
    out.values = start;
    std::vector<std::pair<const Goal*, double>> kept;
    bool stopped = false;
    try {
        for (std::size_t at = 0; at < program.goals.size() && !stopped; ++at) {
            auto one = solve_one(program, at, kept, limits, out.values, began, stopped);
            if (!one) return std::unexpected(one.error());
            out.values = std::move(one->values);
            kept.emplace_back(&program.goals[at], one->reached.value);
            out.goals.push_back(std::move(one->reached));
        }
    } catch (const CoinError& error) {
        return fail(ProblemCode::kOurFault, "services",
                    fmt::format("the solver failed: {} ({})", error.message(), error.methodName()),
                    "report this with the services and the pieces");
    }
    return out;
}

}  // namespace footring::services
