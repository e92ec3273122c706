// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <filesystem>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/json_page.h"
#include "cli/reading_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "dating/clues.h"
#include "photo/read.h"
#include "photo/reading_json.h"
#include "photo/thumbnail.h"
#include "server/wording.h"

namespace footring::cli {

namespace {

namespace fs = std::filesystem;

std::expected<photo::ReadOptions, std::vector<Problem>> read_options(const Call& call) {
    photo::ReadOptions options;
    std::vector<Problem> problems;
    if (const auto text = call.one("--rim-height-mm")) {
        const auto height = to_number(*text);
        if (height && *height >= 0 && *height <= 300) options.rim_height_mm = *height;
        else
            problems.push_back({ProblemCode::kBadInput, "--rim-height-mm",
                                fmt::format("'{}' is no height of a rim in mm", *text),
                                "write a number from 0 to 300"});
    }
    if (const auto side = call.one("--side"))
        options.side = *side == "back" ? photo::Side::kBack : photo::Side::kFront;
    if (const auto folder = call.one("--pictures")) {
        options.pictures = true;
        std::error_code error;
        if (!fs::is_directory(*folder, error))
            problems.push_back({ProblemCode::kNotFound, *folder, "there is no such folder", "make it first"});
    }
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return options;
}

// Sizes, borders and lines can be read without knowing what they may be.
std::expected<Reference, std::vector<Problem>> no_reference() {
    Reference nothing;
    nothing.book.index();
    return nothing;
}

// NAME-strip.jpg and so on, for a photograph NAME.jpg.
void write_pictures(const std::string& folder, const std::string& photo, const photo::Reading& reading,
                    std::vector<Problem>& problems) {
    const std::pair<const char*, const std::string*> pictures[] = {{"-strip.jpg", &reading.strip_jpeg},
                                                                   {"-upright.jpg", &reading.upright_jpeg},
                                                                   {"-repeat.png", &reading.repeat_png},
                                                                   {"-tile.png", &reading.tile_png},
                                                                   {"-mark.png", &reading.wording.mark_png}};
    for (const auto& [ending, bytes] : pictures)
        if (!bytes->empty())
            if (auto written =
                    write_file((fs::path(folder) / (fs::path(photo).stem().string() + ending)).string(), *bytes);
                !written)
                problems.push_back(written.error());
}

// What the wording tells of the date: a line a clue.
std::string clue_lines(const book::Book& book, const photo::Reading& reading, const Settings& settings,
                       const World& world) {
    const auto wording = server::wording_of(photo::reading_json(reading), nullptr, reading.file);
    if (!wording) return "";
    const auto answer = dating::find_clues(book, wording->text, settings);
    std::string text;
    if (!answer) return text;
    for (const dating::FoundClue& clue : answer->clues)
        if (const auto years = edtf::parse(clue.years); clue.within.empty() && years)
            text += wrapped(fmt::format("{} (\"{}\"): {}{}", clue.name, clue.text, edtf::in_words(*years),
                                        clue.verified == book::Verified::kNo ? "; not verified" : ""),
                            world.width, "  - ", "    ");
    return text.empty() ? text : "\n" + Ink{world.colour}.strong("What the wording tells") + "\n" + text;
}

Outcome read(const Call& call, World& world) {
    const auto reference = call.has("--pack") ? open_reference(call) : no_reference();
    const auto options = read_options(call);
    std::vector<Problem> problems;
    if (!reference) problems = reference.error();
    if (!options) problems.insert(problems.end(), options.error().begin(), options.error().end());
    if (!problems.empty()) return refuse(std::move(problems));

    const photo::Library library(reference->book);
    // Laws on wording hold for any maker; without their pack there is no clue to look for.
    const auto with_law = open_reference_with_law(call, world);
    const book::Book& clues = with_law ? with_law->book : reference->book;
    Outcome outcome;
    outcome.page_despite_problems = true;  // one torn photograph does not hide what hundreds of others showed
    for (const std::string& path : call.arguments) {
        auto bytes = read_file(path, photo::kMostBytes);
        auto reading = bytes ? photo::read(*bytes, path, library, *options) : std::unexpected(bytes.error());
        if (!reading) {
            outcome.problems.push_back(reading.error());
            continue;
        }
        if (call.json()) {
            auto json = photo::reading_json(*reading);
            json["clues"] = server::clues_in(clues, server::wording_of(json, nullptr, path), reference->settings);
            outcome.page += json_line(json);
        } else {
            if (!outcome.page.empty()) outcome.page += "\n";
            outcome.page += reading_page(*reading, reference->book, world);
            outcome.page += clue_lines(clues, *reading, reference->settings, world);
        }
        if (const auto folder = call.one("--pictures")) write_pictures(*folder, path, *reading, outcome.problems);
    }
    return outcome;
}

}  // namespace

Command read_command() {
    return {
        .name = "read",
        .sentence = "Reads photographs: size, border, lines, centre, glaze, faults, and the wording underneath.",
        .detail =
            {"Finds the piece in each photograph and tells what can be seen of it. With the scale card (see "
             "`footring "
             "card`) lying on the table beside the piece, lengths are in mm and colours are balanced; without it "
             "shapes and ornaments are still read. With --pack what is seen is compared with the packs' drawings, "
             "glazes, sizes and marks.",
             "Every reading carries the chance that it is right, measured on photographs whose truth is known. "
             "What "
             "it suggests is for a person to accept.",
             "A photograph that cannot be read is reported, and the others are read; the exit status is 2."},
        .arguments = {{.name = "PHOTO",
                       .sentence = "A photograph: JPEG, PNG, HEIC, WebP or TIFF, at most 80 MB and 60 megapixels.",
                       .takes = Takes::kFile,
                       .repeats = true}},
        .options = {pack_option(false),
                    {.name = "--rim-height-mm",
                     .value = "H",
                     .sentence = "How high the rim stands above the table. Absent: as recorded for the form that "
                                 "fits, else 25."},
                    {.name = "--side",
                     .value = "SIDE",
                     .sentence = "front or back. Absent: as the photograph looks.",
                     .takes = Takes::kChoice,
                     .choices = {"front", "back"}},
                    {.name = "--pictures",
                     .value = "DIR",
                     .sentence =
                         "A folder for the rim strip, the plate from above, the repeat, its tile and the mark.",
                     .takes = Takes::kFolder}},
        .run = read};
}

}  // namespace footring::cli
