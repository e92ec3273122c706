// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "book/pack_text.h"
#include "papers/kinds.h"
#include "papers/paper.h"
#include "papers/row_papers.h"
#include "papers/words.h"
#include "store/memory_store.h"

namespace footring::papers {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::Not;

TEST(Curled, GivesMarksTheirSides) {
    EXPECT_EQ(curled("Called \"the old fern\" in 1919"), "Called \u201cthe old fern\u201d in 1919");
    EXPECT_EQ(curled("Nord's (\"seconds\") and 'firsts'"),
              "Nord\u2019s (\u201cseconds\u201d) and \u2018firsts\u2019");
    EXPECT_EQ(curled("the crash of '29"), "the crash of \u201929");
    EXPECT_EQ(curled("\"of 1912\""), "\u201cof 1912\u201d");
    EXPECT_EQ(curled("a potters' strike"), "a potters\u2019 strike");
}
TEST(Curled, LeavesInchesAndFeet) {
    EXPECT_EQ(curled("9\" plate"), "9\" plate");
    EXPECT_EQ(curled("a shelf of 6' 2\""), "a shelf of 6' 2\"");
}

TEST(Sources, SayDatesInWords) {
    book::Source source;
    source.creator = "A. Writer";
    source.title = "To the museum";
    source.date = "1932-04";
    EXPECT_EQ(source_words(source).plain(), "A. Writer, To the museum, April 1932");
    source.date = "1896/1938~";
    EXPECT_EQ(source_words(source).plain(), "A. Writer, To the museum, 1896\u2013about 1938");
    source.date = "in the war";
    EXPECT_EQ(source_words(source).plain(), "A. Writer, To the museum, in the war");
}

const book::Book& reed() {
    static const book::Book kBook = book::book_from_tables({
        {"forms", "id,name,ware\nplate,Dinner plate,flat\nsugar,Sugar,hollow\n"},
        {"makers", "id\nkw\n"},
        {"shapes", "id,maker,name\nharrow,kw,Harrow\n"},
        {"shape_forms", "shape,form\nharrow,plate\nharrow,sugar\n"},
        {"glazes", "id\noat\n"},
        {"ornaments", "id,kind,finish\nfern,stamp,gold\nstar,decal,red\n"},
        {"treatments", "id,shape,glaze,number,name\nt-1,harrow,oat,1,Fern\nt-2,harrow,oat,2,\n"},
        {"treatment_ornaments",
         "treatment,place,ornament,on\nt-1,rim,fern,*\nt-1,centre,star,flat\nt-2,rim,fern,*\n"},
        {"marks", "id,maker\nm-1,kw\n"},
    });
    return kBook;
}

const Table& table_of(const Paper& paper) {
    for (const Block& block : paper.blocks)
        if (const auto* table = std::get_if<Table>(&block.is)) return *table;
    throw std::runtime_error("no table");
}

TEST(Wants, SayATreatmentOnceAboveTheRowsThatShareIt) {
    const auto rows = want_rows(
        R"([{"service": "Six", "form": "plate", "trade_size": "7 in", "treatment": "t-1", "want": 6, "low": 4, "middle": 9,
             "high": 20, "currency": "USD"},
            {"service": "Six", "form": "sugar", "treatment": "t-1"}])");
    ASSERT_TRUE(rows);
    const Paper paper = wants(*rows, reed(), "2026-03-01");
    const Table& table = table_of(paper);
    EXPECT_EQ(table.caption, "Six: 1 Fern, Harrow");
    std::vector<std::string> heads, first;
    for (const Table::Column& column : table.columns) heads.push_back(column.head);
    for (const Cell& cell : table.rows[0]) first.push_back(cell.text.plain());
    EXPECT_THAT(heads, ElementsAre("", "Form", "Has", "Lacks", "About", "Note"));
    EXPECT_THAT(first,
                ElementsAre("\u25a1", "Dinner plate, 7\u00a0in", "0", "6", "9\u00a0USD\u00a0(4\u201320)", ""));
}

TEST(Schedule, SaysOnceWhatIsSaidOfAll) {
    const auto rows = schedule_rows(R"([{"piece": "p-1", "middle": 9, "basis": "3 sales", "note": "In doubt."},
                                       {"piece": "p-2", "middle": 8, "basis": "3 sales", "note": "In doubt."}])");
    ASSERT_TRUE(rows);
    const Paper paper = schedule(*rows, reed(), "2026-03-01");
    EXPECT_EQ(table_of(paper).columns.back().head, "Between");
    EXPECT_EQ(table_of(paper).rows[1][1].text.plain(), "\u00a0(a)");
    std::string said;
    for (const Block& block : paper.blocks)
        if (const auto* p = std::get_if<Paragraph>(&block.is)) said += p->text.plain() + "\n";
    EXPECT_THAT(said, HasSubstr("(a)\u00a0In doubt.\n"));
    EXPECT_THAT(said, HasSubstr("Basis of all: 3 sales."));
}

struct Cupboard : ::testing::Test {
    Cupboard() {
        for (const char* id : {"p-1", "p-2"}) {
            store::PieceRecord record;
            record.piece.id = id;
            record.piece.form = "plate";
            record.piece.looks.push_back({book::Place::kRim, {"fern", looks::Sure::kSure}});
            EXPECT_TRUE(store->put(record, ""));
        }
    }
    std::string html_of(const std::string& kind, const std::string& of, const std::set<std::string>* others,
                        std::vector<std::string> pieces = {}) {
        Order order;
        order.kind = kind;
        order.of = of;
        order.pieces = std::move(pieces);
        order.format = "html";
        order.date = "2026-03-01";
        const auto paper = made(order, {reed(), settings, store.get(), others});
        return paper ? paper->bytes : to_line(paper.error());
    }
    std::unique_ptr<store::Store> store = store::open_in_memory([] { return std::string("2026-03-01T00:00:00Z"); });
    Settings settings;
    const std::set<std::string> theirs{"p-2"};
};

TEST_F(Cupboard, PapersOfAllLeaveOutThePiecesOfLetters) {
    EXPECT_THAT(html_of("inventory", "", nullptr), HasSubstr("Two pieces"));
    const std::string own = html_of("inventory", "", &theirs);
    EXPECT_THAT(own, HasSubstr("One piece"));
    EXPECT_THAT(own, Not(HasSubstr("p-2")));
    EXPECT_THAT(html_of("dossier", "ornament:fern", &theirs), HasSubstr("one piece<"));
}
TEST_F(Cupboard, APieceThatIsNamedIsShownWhosesoeverItIs) {
    EXPECT_THAT(html_of("labels", "", &theirs, {"p-2"}), HasSubstr("p-2"));
}

TEST_F(Cupboard, BlankNamesAreIds) {
    const std::string page = html_of("dossier", "treatment:t-1", nullptr);
    EXPECT_THAT(page, HasSubstr("1 Fern on Harrow: fern on the rim; star in the centre."));
    EXPECT_THAT(page, HasSubstr("<dt>Glaze</dt><dd>oat</dd>"));
    EXPECT_THAT(page, HasSubstr("<td>m-1</td><td>kw</td>"));
}

}  // namespace
}  // namespace footring::papers
