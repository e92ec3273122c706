// base/settings.h - every number that the reasoning assumes, and those by which the house is kept, in one list.
//   The list makes the struct, the command line (`--set name=value`), the HTTP API (/api/settings) and
//   docs/settings.md; base/settings_test.cpp and the docs test fail when one of them falls behind.
//   To add a setting: one line here, then run `footring settings --markdown > docs/settings.md`.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "base/problem.h"

namespace footring {

// name, default, lowest, highest, what raising it does
#define FOOTRING_SETTINGS(S)                                                                                       \
    S(open_prior, 0.05, 0, 0.999,                                                                                  \
      "Prior of all that no pack lists: an unlisted treatment, or a piece made or "                                \
      "decorated elsewhere. Higher makes answers more reluctant.")                                                 \
    S(open_unlisted_share, 0.5, 0, 1, "Share of open_prior that goes to an unlisted treatment of a known shape.")  \
    S(prior_pack_counts, 0, 0, 1, "1 counts each dated use of a treatment in the packs towards its prior.")        \
    S(prior_cupboard_counts, 0, 0, 1,                                                                              \
      "1 counts each decided piece in the cupboard towards its treatment's prior.")                                \
    S(prior_pseudo_count, 1, 0.001, 1000, "Added to every treatment's count; higher trusts the counts less.")      \
    S(sure_sure, 0.98, 0, 1, "Chance that a look entered as sure is right.")                                       \
    S(sure_likely, 0.85, 0, 1, "Chance that a look entered as likely is right.")                                   \
    S(sure_guess, 0.60, 0, 1, "Chance that a look entered as a guess is right.")                                   \
    S(bare_share, 0.98, 0, 1, "Chance that a place with no recorded ornament really is bare.")                     \
    S(loss_none, 0, 0, 1, "Loss of over-glaze metal and enamel lines on a piece without wear.")                    \
    S(loss_light, 0.05, 0, 1, "Loss on a lightly worn piece, before the factor of the place.")                     \
    S(loss_moderate, 0.2, 0, 1, "Loss on a moderately worn piece, before the factor of the place.")                \
    S(loss_heavy, 0.5, 0, 1, "Loss on a heavily worn piece, before the factor of the place.")                      \
    S(loss_at_edge, 1, 0, 2, "Factor of loss at edge, handle and finial.")                                         \
    S(loss_at_rim, 0.5, 0, 2, "Factor of loss at rim, verge, lid and body.")                                       \
    S(loss_at_centre, 0.3, 0, 2, "Factor of loss at centre and inside.")                                           \
    S(loss_at_other, 0.5, 0, 2, "Factor of loss at foot and underside.")                                           \
    S(loss_most, 0.9, 0, 1, "Loss never exceeds this.")                                                            \
    S(second_of_first, 0.02, 0, 1, "Share of second-grade pieces under a number of grade first.")                  \
    S(second_of_second, 0.98, 0, 1, "Share of second-grade pieces under a number of grade second.")                \
    S(second_of_any, 0.25, 0, 1, "Share of second-grade pieces under a number of any grade.")                      \
    S(faults_first_none, 0.80, 0, 1, "Share of first-run pieces without faults.")                                  \
    S(faults_first_few, 0.18, 0, 1, "Share of first-run pieces with few faults.")                                  \
    S(faults_first_many, 0.02, 0, 1, "Share of first-run pieces with many faults.")                                \
    S(faults_second_none, 0.10, 0, 1, "Share of seconds without faults.")                                          \
    S(faults_second_few, 0.40, 0, 1, "Share of seconds with few faults.")                                          \
    S(faults_second_many, 0.50, 0, 1, "Share of seconds with many faults.")                                        \
    S(unmarked_share, 0.25, 0, 1, "Share of unmarked pieces of a maker for whom the pack gives none.")             \
    S(numbered_share, 0.30, 0, 1, "Share of numbered pieces of a maker for whom the pack gives none.")             \
    S(soft_about_years, 3, 0, 50, "Years over which an end marked ~ (or with unspecified digits) falls off.")      \
    S(soft_uncertain_years, 5, 0, 50, "Years over which an end marked ? falls off.")                               \
    S(first_year, 1870, 0, 2100, "Earliest year considered where nothing is recorded.")                            \
    S(last_year, 1990, 0, 2100, "Latest year considered where nothing is recorded.")                               \
    S(source_trust, 0.9, 0, 1, "Chance that a statement about years holds whose source has no trust of its own.")  \
    S(dated_use_reach_years, 10, 1, 100,                                                                           \
      "Added to the span of dated uses before they are carried on beyond the first and the last.")                 \
    S(effort_glance_min, 0.5, 0.01, 10000, "Minutes to look at a place that is in view.")                          \
    S(effort_turn_over_min, 1, 0.01, 10000, "Minutes to turn a piece over and read it.")                           \
    S(effort_measure_min, 1, 0.01, 10000, "Minutes to measure a piece.")                                           \
    S(effort_loupe_min, 2, 0.01, 10000, "Minutes to judge glaze and faults with a loupe.")                         \
    S(effort_lamp_min, 3, 0.01, 10000, "Minutes under an ultraviolet lamp.")                                       \
    S(effort_laboratory_min, 600, 0.01, 100000, "Minutes that a laboratory's answer costs.")                       \
    S(clue_rarely_weight, 0.1, 0, 1, "Weight of the years in which a wording is met, but seldom.")                 \
    S(clue_unverified_trust, 0.6, 0, 1,                                                                            \
      "Times the trust of its source, for a wording or number that was compared with no copy of what it cites.")   \
    S(clue_partly_trust, 0.85, 0, 1, "The same for one that was compared in part.")                                \
    S(clue_practice_trust, 0.85, 0, 1, "The same for a habit, which nobody was bound to keep, beside a law.")      \
    S(number_boundary_share, 0.02, 0, 0.5,                                                                         \
      "Near the first number of a year that was not verified, numbers within this share of the year's count "      \
      "may be of the neighbour year. Higher gives two years more often.")                                          \
    S(sequence_interval, 0.9, 0.5, 0.999, "Chance that the interval of a year read from its number holds it.")     \
    S(sequence_resamples, 400, 50, 10000, "Resamples behind that interval; more takes longer.")                    \
    S(sequence_outlier, 3.5, 1, 100,                                                                               \
      "A dated number further from the line than this many typical deviations is named and left out.")             \
    S(sequence_trust, 0.8, 0, 1, "Chance that the year of a number, read off its sequence, holds for a piece.")    \
    S(unseen_interval, 0.95, 0.5, 0.999, "Chance that the interval of a count of the unseen holds it.")            \
    S(unseen_rare_limit, 10, 1, 1000, "Kinds seen at most so often are rare to the estimator ACE.")                \
    S(step_share, 0.05, 0, 0.5,                                                                                    \
      "A piece is out of step when at most this share of its years falls within those of the rest.")               \
    S(service_least_odds, 0.5, 0.001, 1,                                                                           \
      "A piece may serve a treatment when the odds that it is of it, or of a twin of it, reach this.")             \
    S(service_sure_odds, 0.9, 0.001, 1, "Below these odds a piece at its place in a service is called doubtful.")  \
    S(service_size_tolerance, 0.05, 0.001, 0.5,                                                                    \
      "A piece agrees with a recorded trade size when its length is within this share of it.")                     \
    S(service_gap, 0, 0, 0.5,                                                                                      \
      "An allotment may end when it is within this share of the best that can still be possible; 0 asks for the "  \
      "best, with its proof.")                                                                                     \
    S(service_most_nodes, 20000, 1, 10000000, "Branches that an allotment may open for each of its goals.")        \
    S(service_most_seconds, 120, 1, 86400, "Seconds that an allotment may take for each of its goals.")            \
    S(least_shown, 0.0001, 0, 1, "Candidates less likely than this are left out of the answer.")                   \
    S(share_session_hours, 168, 1, 8760, "Shared: hours after which one has to sign in again.")                    \
    S(share_idle_hours, 24, 0.1, 8760, "Shared: the same, when nothing was asked for meanwhile.")                  \
    S(share_tries, 10, 3, 1000,                                                                                    \
      "Shared: failed sign-ins to one account within share_tries_minutes after which it has to wait.")             \
    S(share_tries_from_one_place, 30, 3, 100000,                                                                   \
      "Shared: failed sign-ins from one address within share_tries_minutes after which it has to wait.")           \
    S(share_tries_minutes, 15, 1, 1440, "Shared: minutes over which failed sign-ins are counted.")                 \
    S(share_requests_per_second, 40, 1, 100000, "Shared: requests that one address may go on making each second.") \
    S(share_requests_at_once, 600, 10, 1000000, "Shared: requests that one address may make at once.")             \
    S(backup_hours, 24, 1, 8760, "Hours between copies of the database that the web app makes by itself.")         \
    S(backup_days, 7, 1, 3650, "Of the last days on which one was made, so many keep their newest copy.")          \
    S(backup_weeks, 4, 0, 520, "The same of weeks.")                                                               \
    S(backup_months, 12, 0, 1200, "The same of months.")

struct Settings {
#define FOOTRING_FIELD(name, fallback, lowest, highest, sentence) double name = fallback;
    FOOTRING_SETTINGS(FOOTRING_FIELD)
#undef FOOTRING_FIELD
    friend bool operator==(const Settings&, const Settings&) = default;
};

struct Setting {
    std::string_view name;
    double fallback, lowest, highest;
    std::string_view sentence;
    double Settings::*field;
};
std::span<const Setting> all_settings();

// Sets one by name from text ("0.85"). kNotFound for an unknown name, kBadInput for no number or out of range.
Expected<void> set(Settings&, std::string_view name, std::string_view value);
std::string settings_markdown();  // docs/settings.md

}  // namespace footring
