// SPDX-License-Identifier: Apache-2.0
#include "photo/periodic.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>
#include <numeric>
#include <opencv2/imgproc.hpp>
#include <random>

namespace footring::photo {

namespace {
constexpr double kTurn = 2 * std::numbers::pi;
constexpr int kColumns = 1536, kRows = 28;
constexpr double kLeastExplained = 0.03;  // by a count, or nothing repeats
constexpr double kWell = 0.5;             // explained
constexpr double kLeastDrift = 5e-4;      // turns: a drift that is smaller is found from an even ribbon
constexpr double kMayGain = 0.2;          // of what the best count explains
constexpr double kBentIsBetter = 0.02;    // explained besides, when the ribbon is taken to be uneven from the start

// Weighted pattern without what all columns of a row have in common (lines, bands).
struct Folded {
    cv::Mat_<float> x, w;  // rows x columns; x is 0 where w is
};
Folded prepare(const cv::Mat& pattern, const cv::Mat& weight) {
    Folded f;
    const cv::Size size(std::min(kColumns, pattern.cols), std::min(kRows, pattern.rows));
    cv::resize(pattern, f.x, size, 0, 0, cv::INTER_AREA);
    cv::resize(weight, f.w, size, 0, 0, cv::INTER_AREA);
    for (int r = 0; r < size.height; ++r) {
        double sum = 0, norm = 1e-9;
        for (int c = 0; c < size.width; ++c) {
            sum += static_cast<double>(f.x(r, c) * f.w(r, c));
            norm += static_cast<double>(f.w(r, c));
        }
        const float mean = static_cast<float>(sum / norm);
        for (int c = 0; c < size.width; ++c) f.x(r, c) -= mean;
    }
    return f;
}

// One repeat after the other as rows of a matrix.
struct Stack {
    cv::Mat_<float> x, w;  // count x (rows * length)
    double energy = 0;
};
Stack stack_of(const Folded& f, const Periodicity& even, int count) {
    const int length = std::max(6, static_cast<int>(std::lround(static_cast<double>(f.x.cols) / count)));
    const cv::Mat x = evened(f.x, even, count, length, 0), w = evened(f.w, even, count, length, 0);
    Stack s{cv::Mat_<float>(count, f.x.rows * length), cv::Mat_<float>(count, f.x.rows * length), 0};
    for (int i = 0; i < count; ++i)
        for (int r = 0; r < f.x.rows; ++r) {
            const auto* from = x.ptr<float>(r) + static_cast<std::ptrdiff_t>(i) * length;
            const auto* weigh = w.ptr<float>(r) + static_cast<std::ptrdiff_t>(i) * length;
            std::copy(from, from + length, s.x[i] + static_cast<std::ptrdiff_t>(r) * length);
            std::copy(weigh, weigh + length, s.w[i] + static_cast<std::ptrdiff_t>(r) * length);
        }
    s.energy = s.x.mul(s.x).dot(s.w);
    return s;
}

// Share of the energy foretold by the other members of each class. classes[i] in [0, parts).
double foretold(const Stack& s, const std::vector<int>& classes, int parts) {
    const int n = s.x.rows, size = s.x.cols;
    double error = 0;
    cv::Mat_<float> sums(1, size), norms(1, size);
    float *sum = sums[0], *norm = norms[0];
    for (int part = 0; part < parts; ++part) {
        sums.setTo(0);
        norms.setTo(0.15);
        for (int i = 0; i < n; ++i) {
            if (classes[static_cast<std::size_t>(i)] != part) continue;
            const float *x = s.x[i], *w = s.w[i];
            for (int k = 0; k < size; ++k) {
                sum[k] += w[k] * x[k];
                norm[k] += w[k];
            }
        }
        for (int i = 0; i < n; ++i) {
            if (classes[static_cast<std::size_t>(i)] != part) continue;
            const float *x = s.x[i], *w = s.w[i];
            float e = 0;
            for (int k = 0; k < size; ++k) {
                const float d = x[k] - (sum[k] - w[k] * x[k]) / (norm[k] - w[k]);
                e += w[k] * d * d;
            }
            error += static_cast<double>(e);
        }
    }
    return 1 - error / std::max(1e-9, s.energy);
}
double foretold(const Stack& s) { return foretold(s, std::vector<int>(static_cast<std::size_t>(s.x.rows), 0), 1); }

// Whether repeats of two (three) kinds take turns: sorted so, they foretell each other clearly better than sorted
// at random in classes as large.
bool take_turns(const Folded& f, const Periodicity& even, int count, int parts) {
    const Stack s = stack_of(f, even, count);
    std::vector<int> classes(static_cast<std::size_t>(count));
    for (int i = 0; i < count; ++i) classes[static_cast<std::size_t>(i)] = i % parts;
    const double ordered = foretold(s, classes, parts);
    std::mt19937 random(1);
    constexpr int kTrials = 16;
    double mean = 0, square = 0, best = -1e9;
    for (int i = 0; i < kTrials; ++i) {
        std::shuffle(classes.begin(), classes.end(), random);
        const double v = foretold(s, classes, parts);
        mean += v / kTrials;
        square += v * v / kTrials;
        best = std::max(best, v);
    }
    const double spread = std::sqrt(std::max(1e-8, square - mean * mean));
    return ordered > best && ordered > mean + 4 * spread && ordered > foretold(s) + 0.02;
}

// For each count up to `most` the share of the pattern's power at its multiples, less what would lie there by
// chance; below `least`, -1. `smeared`: neighbours of high multiples count too.
std::vector<double> combs(const cv::Mat& x, int least, int most, bool smeared) {
    constexpr int kHighest = 260, kSmearFrom = 50;
    cv::Mat spectrum;
    cv::dft(x, spectrum, cv::DFT_ROWS | cv::DFT_COMPLEX_OUTPUT);
    const int highest = std::min(kHighest, x.cols / 2 - 2);
    std::vector<double> power(static_cast<std::size_t>(highest) + 2, 0.0);
    double all = 1e-12;
    for (int k = 1; k <= highest; ++k) {
        for (int r = 0; r < spectrum.rows; ++r) {
            const auto v = spectrum.at<cv::Vec2f>(r, k);
            power[static_cast<std::size_t>(k)] += static_cast<double>(v.dot(v));
        }
        all += power[static_cast<std::size_t>(k)];
    }
    std::vector<double> score(static_cast<std::size_t>(most) + 1, -1.0);
    for (int n = least; n <= most; ++n) {
        double sum = 0;
        int bins = 0;
        for (int k = n; k <= highest; k += n) {
            const int smear = smeared && k >= kSmearFrom && n > 6 ? 1 : 0;
            for (int d = -smear; d <= smear; ++d) sum += power[static_cast<std::size_t>(k + d)];
            bins += 2 * smear + 1;
        }
        const double chance = static_cast<double>(bins) / highest;
        score[static_cast<std::size_t>(n)] = (sum / all - chance) / std::max(0.05, 1 - chance);
    }
    return score;
}

// Counts that the spectrum speaks for, likeliest first.
std::vector<int> shortlist(const Folded& f, const Periodicity& even, int least, int most) {
    constexpr std::size_t kLeaders = 6;
    cv::Mat x = f.x.mul(f.w);
    if (even.drift != cv::Vec4d(0, 0, 0, 0)) x = evened(x, even, 1, x.cols, 0);
    const auto combed = combs(x, least, most, true);
    std::vector<std::pair<double, int>> score;
    for (int n = least; n <= most; ++n) score.emplace_back(combed[static_cast<std::size_t>(n)], n);
    std::sort(score.rbegin(), score.rend());
    std::vector<int> list;
    const auto add = [&](int n) {
        if (n >= least && n <= most && std::find(list.begin(), list.end(), n) == list.end()) list.push_back(n);
    };
    for (std::size_t i = 0; i < std::min(kLeaders, score.size()); ++i) add(score[i].second);
    for (std::size_t i = 0; i < std::min<std::size_t>(4, score.size()); ++i)
        for (const int by : {2, 3}) {
            add(score[i].second * by);
            if (score[i].second % by == 0) add(score[i].second / by);
        }
    // some that have nothing to do with it, to know what chance explains
    for (const int n : {7, 11, 13, 17}) add(n);
    return list;
}

// Whether what repeats `count` times may repeat n times as well: multiples and divisors do, and where a repeat
// holds its stroke two or three times, other divisors of all strokes.
bool akin(int n, int count) { return n % count == 0 || count % n == 0 || std::lcm(n, count) <= 3 * count; }

// How far each repeat lies from where an even ribbon would have it, as a smooth wave round the rim.
cv::Vec4d find_drift(const Folded& f, const Periodicity& even, int count) {
    const int length = std::max(16, static_cast<int>(std::lround(static_cast<double>(f.x.cols) / count)));
    const cv::Mat_<float> x = evened(f.x, even, count, length, 0), w = evened(f.w, even, count, length, 0);
    cv::Mat_<float> mean = cv::Mat_<float>::zeros(x.rows, length), norm = mean.clone();
    for (int c = 0; c < x.cols; ++c)
        for (int r = 0; r < x.rows; ++r) {
            mean(r, c % length) += x(r, c) * w(r, c);
            norm(r, c % length) += w(r, c);
        }
    for (int c = 0; c < length; ++c)
        for (int r = 0; r < x.rows; ++r) mean(r, c) /= norm(r, c) + 0.1f;
    // least squares over windows of one repeat: waves against shift
    const int terms = count >= 7 ? 4 : count >= 4 ? 2 : 0;
    if (terms == 0) return {0, 0, 0, 0};
    const int reach = length / 5;
    cv::Matx<double, 4, 4> a = cv::Matx<double, 4, 4>::eye() * 1e-6;
    cv::Vec4d b(0, 0, 0, 0);
    for (int i = 0; i < count; ++i) {
        std::vector<double> score;
        for (int shift = -reach; shift <= reach; ++shift) {
            double dot = 0, xx = 1e-6, mm = 1e-6;
            for (int r = 0; r < x.rows; ++r)
                for (int k = 0; k < length; ++k) {
                    const int c = (i * length + k + shift + x.cols) % x.cols;
                    const double weight = static_cast<double>(w(r, c)), v = static_cast<double>(x(r, c)),
                                 m = static_cast<double>(mean(r, k));
                    dot += weight * v * m;
                    xx += weight * v * v;
                    mm += weight * m * m;
                }
            score.push_back(dot / std::sqrt(xx * mm));
        }
        const auto best = std::max_element(score.begin(), score.end());
        const auto at = static_cast<std::size_t>(best - score.begin());
        if (*best < 0.3 || at == 0 || at + 1 == score.size()) continue;
        const double l = score[at - 1], m = score[at], h = score[at + 1];
        const double shift = static_cast<double>(at) - reach + 0.5 * (l - h) / std::min(-1e-9, l - 2 * m + h);
        // the repeat lies `shift` columns too far on: its even place is that much less
        const double value = -shift / x.cols, m0 = kTurn * (i + 0.5) / count, weight = *best * *best;
        const cv::Vec4d wave(std::cos(m0), std::sin(m0), terms > 2 ? std::cos(2 * m0) : 0,
                             terms > 2 ? std::sin(2 * m0) : 0);
        a += weight * (wave * wave.t());
        b += weight * value * wave;
    }
    return a.solve(b, cv::DECOMP_CHOLESKY);
}

// Repeats that drift have their power beside the multiples of their count, and a neighbour of it may look likelier.
// Of drifts of one wave round the rim, that under which the spectrum is sharpest; nought where none is clearly so.
cv::Vec4d sharpest(const Folded& f, int least, int most) {
    constexpr std::array kSizes{0.004, 0.007, 0.010, 0.013, 0.016};  // turns; a pose that is further off shows
    constexpr int kDirections = 16, kFewRows = 10;
    constexpr double kClearly = 1.2;
    cv::Mat weighed = f.x.mul(f.w), x;
    cv::resize(weighed, x, {f.x.cols, std::min(kFewRows, f.x.rows)}, 0, 0, cv::INTER_AREA);
    const auto sharpness = [&](const Periodicity& even) {
        const cv::Mat straight = even.drift == cv::Vec4d(0, 0, 0, 0) ? x : evened(x, even, 1, x.cols, 0);
        const auto score = combs(straight, least, most, false);
        return *std::max_element(score.begin(), score.end());
    };
    double most_sharp = kClearly * std::max(0.02, sharpness({}));
    cv::Vec4d best(0, 0, 0, 0);
    for (const double size : kSizes)
        for (int i = 0; i < kDirections; ++i) {
            const double turn = kTurn * i / kDirections;
            Periodicity even;
            even.drift = {size * std::cos(turn), size * std::sin(turn), 0, 0};
            if (const double sharp = sharpness(even); sharp > most_sharp) most_sharp = sharp, best = even.drift;
        }
    return best;
}

// The drift as the strongest wave of the spectrum has it: how far its phase runs ahead or behind, all round, by its
// neighbours in the spectrum (complex demodulation). Once round, the phase gains whole turns or loses them: those
// are strokes that the strongest wave has too few or too many of, which no other way tells.
cv::Vec4d drift_of_phase(const Folded& f) {
    constexpr int kLowest = 12, kHighest = 260, kSteps = 256;
    constexpr double kBand = 0.12;  // of the wave, to each side: drifts that are faster are none
    cv::Mat spectrum;
    cv::dft(f.x.mul(f.w), spectrum, cv::DFT_ROWS | cv::DFT_COMPLEX_OUTPUT);
    const int highest = std::min(kHighest, f.x.cols / 3);
    int wave = 0;
    double most = 0;
    for (int k = kLowest; k <= highest; ++k) {
        double power = 0;
        for (int r = 0; r < spectrum.rows; ++r)
            power += static_cast<double>(spectrum.at<cv::Vec2f>(r, k).dot(spectrum.at<cv::Vec2f>(r, k)));
        if (power > most) most = power, wave = k;
    }
    if (wave == 0) return {0, 0, 0, 0};
    const int reach = std::max(3, static_cast<int>(std::lround(kBand * wave)));
    cv::Mat_<cv::Vec2f> near(spectrum.rows, kSteps, cv::Vec2f(0, 0)), envelope;
    for (int r = 0; r < spectrum.rows; ++r)
        for (int d = -reach; d <= reach; ++d)
            near(r, (d + kSteps) % kSteps) = spectrum.at<cv::Vec2f>(r, wave + d) *
                                             static_cast<float>(0.5 + 0.5 * std::cos(kTurn * d / (2 * reach + 2)));
    cv::dft(near, envelope, cv::DFT_ROWS | cv::DFT_INVERSE);
    std::vector<double> phase(kSteps + 1, 0.0), weight(kSteps, 0.0);  // turns
    for (int i = 0; i < kSteps; ++i) {
        std::complex<double> step = 0;
        for (int r = 0; r < envelope.rows; ++r) {
            const cv::Vec2f a = envelope(r, i), b = envelope(r, (i + 1) % kSteps);
            step += std::complex<double>(static_cast<double>(b[0]), static_cast<double>(b[1])) *
                    std::conj(std::complex<double>(static_cast<double>(a[0]), static_cast<double>(a[1])));
        }
        weight[static_cast<std::size_t>(i)] = std::sqrt(std::abs(step));
        phase[static_cast<std::size_t>(i) + 1] = phase[static_cast<std::size_t>(i)] + std::arg(step) / kTurn;
    }
    const double gained = std::round(phase.back()), strokes = wave + gained;
    if (std::abs(gained) > reach) return {0, 0, 0, 0};
    // least squares: two waves round the rim and a constant against what the phase is off
    cv::Matx<double, 5, 5> a = cv::Matx<double, 5, 5>::eye() * 1e-9;
    cv::Vec<double, 5> b(0, 0, 0, 0, 0);
    for (int i = 0; i < kSteps; ++i) {
        const double s = static_cast<double>(i) / kSteps, m = kTurn * s,
                     off = (phase[static_cast<std::size_t>(i)] - gained * s) / strokes;
        const cv::Vec<double, 5> row(std::cos(m), std::sin(m), std::cos(2 * m), std::sin(2 * m), 1);
        a += weight[static_cast<std::size_t>(i)] * (row * row.t());
        b += weight[static_cast<std::size_t>(i)] * off * row;
    }
    const cv::Vec<double, 5> x = a.solve(b, cv::DECOMP_CHOLESKY);
    return {x[0], x[1], x[2], x[3]};
}

// What each count explains, under the drift that suits the best of them.
struct Trial {
    Periodicity even;
    std::vector<double> score;  // by count; -1: not tried
    double& at(int n) { return score[static_cast<std::size_t>(n)]; }
    int leader() const { return static_cast<int>(std::max_element(score.begin(), score.end()) - score.begin()); }
};
Trial settled(const Folded& f, const Periodicity& start, int least, int most) {
    Trial trial{start, std::vector<double>(static_cast<std::size_t>(most) + 1, -1.0)};
    const auto list = shortlist(f, start, least, most);
    for (const int n : list) trial.at(n) = foretold(stack_of(f, trial.even, n));
    const int count = trial.leader();
    if (trial.at(count) < kLeastExplained) return trial;
    for (int round = 0; round < 6; ++round) {
        const cv::Vec4d more = find_drift(f, trial.even, count);
        Periodicity next = trial.even;
        next.drift += more;
        if (cv::norm(next.drift - start.drift) > 0.3 / count) break;  // no repeat strays by a third of its length
        const double better = foretold(stack_of(f, next, count));
        if (better < trial.at(count) + 0.004) break;
        trial.even = next;
        trial.at(count) = better;
    }
    if (trial.even.drift != start.drift) {
        const double least_now = kMayGain * trial.at(count);  // what explains less gains too little by a drift
        for (const int n : list)
            if (n != count && trial.at(n) > least_now) trial.at(n) = foretold(stack_of(f, trial.even, n));
    }
    return trial;
}
}  // namespace

double Periodicity::even(double s) const {
    if (drift == cv::Vec4d(0, 0, 0, 0)) return s;
    const double c = std::cos(kTurn * s), d = std::sin(kTurn * s);
    return s + drift[0] * c + drift[1] * d + drift[2] * (2 * c * c - 1) + drift[3] * 2 * c * d;
}

double Periodicity::uneven(double even_s) const {
    if (drift == cv::Vec4d(0, 0, 0, 0)) return even_s;
    double s = even_s;  // the drift is a few thousandths: three rounds settle it
    for (int i = 0; i < 3; ++i) s = even_s - (even(s) - s);
    return s;
}

namespace {
// Between which two columns each new one lies, going round, and how far from the left one.
struct Between {
    int left, right;
    float share;
};
std::vector<Between> columns_between(const Periodicity& even, int columns, double start, int of) {
    std::vector<Between> out;
    out.reserve(static_cast<std::size_t>(columns));
    for (int c = 0; c < columns; ++c) {
        double s = even.uneven(start + (c + 0.5) / columns);
        s -= std::floor(s);
        const double at = s * of - 0.5, left = std::floor(at);
        const int l = (static_cast<int>(left) + of) % of;
        out.push_back({l, (l + 1) % of, static_cast<float>(at - left)});
    }
    return out;
}
template <class Value>
cv::Mat taken_between(const cv::Mat& in, const std::vector<Between>& columns) {
    cv::Mat out(in.rows, static_cast<int>(columns.size()), in.type());
    constexpr int kChannels = static_cast<int>(sizeof(Value) / sizeof(typename cv::DataType<Value>::channel_type));
    for (int r = 0; r < in.rows; ++r) {
        const auto* from = in.ptr<typename cv::DataType<Value>::channel_type>(r);
        auto* to = out.ptr<typename cv::DataType<Value>::channel_type>(r);
        for (const Between& b : columns)
            for (int k = 0; k < kChannels; ++k) {
                const float x = from[b.left * kChannels + k], y = from[b.right * kChannels + k];
                *to++ = cv::saturate_cast<typename cv::DataType<Value>::channel_type>(x + b.share * (y - x));
            }
    }
    return out;
}
}  // namespace

cv::Mat evened(const cv::Mat& in, const Periodicity& even, int count, int length, double start) {
    const int columns = count * length;
    cv::Mat mixed = in;
    // where columns are made fewer, neighbours are mixed first
    if (columns * 1.5 < in.cols) {
        const int n = static_cast<int>(std::lround(static_cast<double>(in.cols) / columns)) | 1;
        cv::Mat wide;
        cv::copyMakeBorder(in, wide, 0, 0, n, n, cv::BORDER_WRAP);
        cv::blur(wide, wide, {n, 1});
        mixed = wide.colRange(n, n + in.cols);
    }
    const auto between = columns_between(even, columns, start, in.cols);
    CV_Assert(in.type() == CV_32FC1 || in.type() == CV_8UC3);
    return in.type() == CV_32FC1 ? taken_between<float>(mixed, between) : taken_between<cv::Vec3b>(mixed, between);
}

Periodicity find_repeats(const cv::Mat& pattern, const cv::Mat& weight, const Periodicity* known, int least,
                         int most) {
    const Folded f = prepare(pattern, weight);
    most = std::min(most, f.x.cols / 12);
    Periodicity start;
    if (known) start.drift = known->drift;
    Trial trial = settled(f, start, least, most);
    const auto explained = [&] { return trial.at(trial.leader()); };
    const auto consider = [&](const cv::Vec4d& drift) {
        if (cv::norm(drift) < kLeastDrift) return;
        start.drift = drift;
        if (Trial bent = settled(f, start, least, most); bent.at(bent.leader()) > explained() + kBentIsBetter)
            trial = std::move(bent);
    };
    // Where repeats foretell each other well, no other drift lets them do so much better.
    if (!known && explained() < kWell) consider(drift_of_phase(f));
    if (!known && explained() < kWell) consider(sharpest(f, least, most));
    Periodicity best = trial.even;
    int count = trial.leader();
    const auto at = [&](int n) { return trial.at(n); };
    if (at(count) < kLeastExplained) return {};
    // A larger count that explains as much wins: the divisors of the truth explain it too, with fewer witnesses
    // each.
    for (int n = most; n > count; --n)
        if (at(n) > 0.985 * at(count) && n % count == 0) {
            count = n;
            break;
        }
    for (const int parts : {2, 3})
        if (count % parts == 0 && count / parts >= least && take_turns(f, best, count, parts)) {
            count /= parts;
            break;
        }
    best.count = count;
    best.explained = at(count);
    best.runner_up = -1;
    for (int n = least; n <= most; ++n)
        if (!akin(n, count)) best.runner_up = std::max(best.runner_up, at(n));
    return best;
}

std::vector<double> change_along(const cv::Mat& repeat, const cv::Mat& ribbon, const cv::Mat& weight, int count) {
    constexpr double kBeyondChance = 0.5;
    const auto variance = [](const float* x, const float* w, int columns) {
        double sum = 0, square = 0, norm = 1e-9;
        for (int c = 0; c < columns; ++c) {
            const double v = static_cast<double>(x[c]), sure = w ? static_cast<double>(w[c]) : 1;
            sum += sure * v, square += sure * v * v, norm += sure;
        }
        return std::max(0.0, square / norm - sum * sum / (norm * norm));
    };
    std::vector<double> change;
    for (int r = 0; r < repeat.rows; ++r) {
        const double folded = variance(repeat.ptr<float>(r), nullptr, repeat.cols),
                     all = variance(ribbon.ptr<float>(r), weight.ptr<float>(r), ribbon.cols);
        change.push_back(folded < kBeyondChance * all / count ? 0 : std::sqrt(folded));
    }
    return change;
}

}  // namespace footring::photo
