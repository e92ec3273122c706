// Editing the Book over HTTP, in packs that the tests may spoil.
// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>

#include <atomic>
#include <iterator>
#include <thread>

#include "server/desk.h"
#include "server/test_server.h"

namespace footring::server {
namespace {

using namespace testing;
using ::testing::HasSubstr;

std::string read(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return std::string{std::istreambuf_iterator<char>(in), {}};
}

struct Editing : ::testing::Test {
    Scratch scratch;
    fs::path pack = scratch.path() / "pack", data = scratch.path() / "data";
    std::unique_ptr<Running> at;

    Editing() {
        fs::copy(root() / "packs" / "ambrel-valley", pack, fs::copy_options::recursive);
        start({pack, std::nullopt, false});
    }
    void start(PackHome home) {
        if (!at) at = std::make_unique<Running>(demo_options(scratch.path() / "unused"));  // for its client
        at->server.reset();
        auto started = start_server(demo_options(data), {std::move(home)});
        if (!started) throw std::runtime_error(to_line(started.error().front()));
        at->server = std::move(*started);
    }
    json row(const std::string& table, const std::string& first) const {
        return at->get("/api/editing/ambrel-valley/" + table + "?first=" + first).value()["rows"][0];
    }
    static json change(const std::string& table, const json& row, json cells) {
        return {{"pack", "ambrel-valley"},
                {"rows",
                 {{{"table", table},
                   {"do", "change"},
                   {"line", row["line"]},
                   {"was", row["cells"]},
                   {"cells", cells}}}}};
    }
};

TEST_F(Editing, ChangesOneLineOfOneFileAndWhatIsAnsweredFromThenOn) {
    const std::string before = read(pack / "treatments.csv");
    const json line = row("treatments", "t-201");
    const Answer done = at->post("/api/editing/edits", change("treatments", line, {{"name", "Plain gold edge"}}));
    ASSERT_EQ(done.status, 200) << done.body;
    EXPECT_EQ(done.value()["change"], 1);
    std::string expected = before;
    expected.replace(expected.find("Plain gold line"), 15, "Plain gold edge");
    EXPECT_EQ(read(pack / "treatments.csv"), expected);
    EXPECT_EQ(at->get("/api/book/treatments/t-201").value()["name"], "Plain gold edge");
    EXPECT_EQ(at->get("/api/search?q=plain%20gold%20edge").value()["book"][0]["id"], "t-201");
}

TEST_F(Editing, TakesAnEditBackAndDoesItAgain) {
    const std::string before = read(pack / "treatments.csv");
    at->post("/api/editing/edits", change("treatments", row("treatments", "t-201"), {{"name", "Gilt"}}));
    const std::string after = read(pack / "treatments.csv");
    EXPECT_EQ(at->post("/api/editing/changes/1/undo", json::object()).value()["change"], 2);
    EXPECT_EQ(read(pack / "treatments.csv"), before);
    EXPECT_EQ(at->post("/api/editing/changes/1/undo", json::object()).problem(),
              "conflict: change: the edit 1 is undone already: undo its undoing to have it again");
    EXPECT_EQ(at->post("/api/editing/changes/2/undo", json::object()).value()["change"], 3);
    EXPECT_EQ(read(pack / "treatments.csv"), after);
    const json changes = at->get("/api/editing/changes").value();
    EXPECT_EQ(changes[0]["what"], "Did again: treatments t-201: name Plain gold line \u2192 Gilt.");
    EXPECT_EQ(changes[1]["what"], "Undid: treatments t-201: name Plain gold line \u2192 Gilt.");
    EXPECT_EQ(changes[1]["undone"], true);
    EXPECT_EQ(changes[2]["undone"], false);
}

TEST_F(Editing, ChecksWithoutWritingAndDrawsWhatWouldBe) {
    const std::string before = read(pack / "treatments.csv");
    json body = change("treatments", row("treatments", "t-201"), {{"shape", "coultre"}, {"years", "1940/1930"}});
    const json faults = at->post("/api/editing/edits?dry_run=true", body).value()["faults"];
    ASSERT_EQ(faults.size(), 2u);
    EXPECT_EQ(faults[0]["column"], "shape");
    EXPECT_EQ(faults[0]["row"], 0);
    EXPECT_EQ(faults[0]["remedy"], "did you mean 'coulter'?");
    EXPECT_EQ(faults[1]["column"], "years");
    body = {{"pack", "ambrel-valley"},
            {"show", {{"treatment", "t-201"}, {"form", "dinner-plate"}}},
            {"rows",
             {{{"table", "treatment_ornaments"},
               {"do", "add"},
               {"cells",
                {{"treatment", "t-201"},
                 {"place", "rim"},
                 {"ornament", "fern-pair"},
                 {"on", "*"},
                 {"source", "s-cat-kw-1912"}}}}}}};
    const json drawn = at->post("/api/editing/edits?dry_run=true", body).value();
    EXPECT_EQ(drawn["faults"], json::array());
    EXPECT_THAT(drawn["picture"].get<std::string>(), HasSubstr("data-place='rim' data-state='decorated'"));
    EXPECT_EQ(read(pack / "treatments.csv"), before);
}

TEST_F(Editing, DoesNotWriteOverAnotherProgramsChange) {
    const json line = row("treatments", "t-201");
    write(pack / "makers.csv", read(pack / "makers.csv") + "\n");
    const std::string before = read(pack / "treatments.csv");
    const Answer refused = at->post("/api/editing/edits", change("treatments", line, {{"name", "Gilt"}}));
    EXPECT_EQ(refused.status, 409);
    EXPECT_EQ(refused.problem(), "conflict: " + (pack / "makers.csv").string() +
                                     ": another program changed this file since the pack was opened: read the pack "
                                     "again, then look at your edit again");
    EXPECT_EQ(at->post("/api/editing/edits?dry_run=true", change("treatments", line, {})).status, 409);
    EXPECT_EQ(read(pack / "treatments.csv"), before);
    EXPECT_EQ(at->post("/api/editing/reload", json::object()).status, 200);
    EXPECT_EQ(at->post("/api/editing/edits", change("treatments", line, {{"name", "Gilt"}})).status, 200);
}

TEST_F(Editing, KeepsTheOldBookWhenWhatIsOnTheDiskCannotBeRead) {
    write(pack / "makers.csv", "id,name\nA B,x\n");
    EXPECT_EQ(at->post("/api/editing/reload", json::object()).status, 400);
    EXPECT_EQ(at->get("/api/book/treatments/t-201").status, 200);
}

TEST_F(Editing, SaysThatAPackIsReadOnly) {
    start({pack, std::nullopt, true});
    EXPECT_EQ(at->get("/api/editing").value()["packs"][0]["why_not"], "the packs were opened to be read only");
    EXPECT_EQ(
        at->post("/api/editing/edits", change("treatments", row("treatments", "t-201"), {{"name", "Gilt"}}))
            .problem(),
        "bad-input: pack ambrel-valley: it cannot be edited: the packs were opened to be read only: open a copy "
        "of it that may be written, without --read-only");
}

TEST_F(Editing, CopiesThePackThatBelongsToTheProgramAtTheFirstEdit) {
    start({pack, data / "packs" / "pack", false});
    const std::string before = read(pack / "treatments.csv");
    EXPECT_EQ(at->get("/api/editing").value()["packs"][0]["copies_to"], (data / "packs" / "pack").string());
    EXPECT_FALSE(fs::exists(data / "packs"));
    const json body = change("treatments", row("treatments", "t-201"), {{"name", "Gilt"}});
    ASSERT_EQ(at->post("/api/editing/edits", body).status, 200);
    EXPECT_EQ(read(pack / "treatments.csv"), before);
    EXPECT_THAT(read(data / "packs" / "pack" / "treatments.csv"), HasSubstr("Gilt"));
    EXPECT_EQ(at->get("/api/drawing/fern-pair").status, 200);
    start({pack, data / "packs" / "pack", false});
    EXPECT_EQ(at->get("/api/book/treatments/t-201").value()["name"], "Gilt");
    EXPECT_EQ(at->post("/api/editing/changes/1/undo", json::object()).status, 200);
    EXPECT_EQ(read(data / "packs" / "pack" / "treatments.csv"), before);
}

TEST_F(Editing, TakesADrawingAndTakesItBack) {
    json body = change("ornaments", row("ornaments", "fern-pair"), {{"drawing", "drawings/fern-new.svg"}});
    body["files"] = {
        {{"path", "drawings/fern-new.svg"},
         {"text", "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><path d=\"M0 0h9\"/></svg>"}}};
    ASSERT_EQ(at->post("/api/editing/edits", body).status, 200);
    EXPECT_THAT(at->get("/api/drawing/fern-pair").body, HasSubstr("M0 0h9"));
    ASSERT_EQ(at->post("/api/editing/changes/1/undo", json::object()).status, 200);
    EXPECT_FALSE(fs::exists(pack / "drawings" / "fern-new.svg"));
    body["files"][0]["text"] = "<svg xmlns=\"http://www.w3.org/2000/svg\"><script/></svg>";
    EXPECT_THAT(at->post("/api/editing/edits", body).problem(), HasSubstr("it runs a script: <script>"));
}

TEST_F(Editing, ExplainsADate) {
    const json date = at->get("/api/date-words?text=1931~/1940").value();
    EXPECT_EQ(date["words"], "between about 1931 and 1940");
    EXPECT_EQ(date["spans"][0]["first"], 1931);
    EXPECT_EQ(at->get("/api/date-words?text=about+1934").status, 400);
}

// Readers keep the Book that they began with; no request may see half of two.
TEST_F(Editing, AnswersWhileTheBookChanges) {
    std::atomic<bool> stop = false;
    std::atomic<int> wrong = 0, answered = 0;
    std::vector<std::thread> readers;
    for (int i = 0; i < 3; ++i)
        readers.emplace_back([&] {
            while (!stop) {
                const Answer answer =
                    at->post("/api/examine", {{"piece", {{"id", "p-1"}, {"form", "dinner-plate"}}}});
                if (answer.status != 200) ++wrong;
                ++answered;
            }
        });
    for (int i = 0; i < 6; ++i)
        EXPECT_EQ(at->post("/api/editing/edits", change("treatments", row("treatments", "t-201"),
                                                        {{"name", "Name " + std::to_string(i)}}))
                      .status,
                  200);
    while (answered < 6) std::this_thread::yield();
    stop = true;
    for (std::thread& reader : readers) reader.join();
    EXPECT_EQ(wrong, 0);
}

}  // namespace
}  // namespace footring::server
