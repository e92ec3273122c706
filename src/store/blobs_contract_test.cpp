// What every place for photographs must do: a folder, and a store of objects that is busy every eleventh time.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <thread>

#include "store/folder_blobs.h"
#include "store/object_blobs.h"
#include "store/sha256.h"
#include "store/test_companion.h"
#include "store/test_stores.h"

namespace footring::store {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::UnorderedElementsAre;

std::string address_at(const std::string& endpoint, const std::string& prefix,
                       const std::string& bucket = "pieces") {
    return fmt::format("s3://{}/{}?endpoint={}", bucket, prefix, endpoint);
}
// That of the tests; or one of another make, named in FOOTRING_TEST_OBJECTS, with a bucket `pieces`, and the key to
// it where the program looks for one (docs/testing.md).
struct Objects {
    std::string endpoint, key, secret;
};
const Objects& objects() {
    static const Objects kObjects = [] {
        const auto variable = [](const char* name) {
            return std::string(std::getenv(name) ? std::getenv(name) : "");
        };
        if (const std::string other = variable("FOOTRING_TEST_OBJECTS"); !other.empty())
            return Objects{other, variable("AWS_ACCESS_KEY_ID"), variable("AWS_SECRET_ACCESS_KEY")};
        constexpr const char *kKey = "footring-test", *kSecret = "a secret that is none";
        static const Companion kServer("objects.py", {"--bucket", "pieces", "--key", kKey, "--secret", kSecret,
                                                      "--page", "3", "--trouble", "11"});
        return Objects{kServer.line(), kKey, kSecret};
    }();
    return kObjects;
}

struct Kind {
    const char* name;
    std::unique_ptr<Blobs> (*open)(const std::filesystem::path&);
};
const Kind kKinds[] = {
    {"Folder", [](const std::filesystem::path& folder) { return must(open_folder_blobs(folder)); }},
    {"SharedFolder",
     [](const std::filesystem::path& folder) {
         return must(open_folder_blobs(folder, real_disk(), Sharing::kShared));
     }},
    // The name of the folder, which has blanks and quotes in it, keeps tests apart and tries names that need
    // encoding.
    {"Objects",
     [](const std::filesystem::path& folder) {
         return must(open_object_blobs(address_at(objects().endpoint, folder.filename().string()), objects().key,
                                       objects().secret));
     }},
};

class BlobsContract : public testing::TestWithParam<Kind> {
  protected:
    void SetUp() override { blobs_ = GetParam().open(scratch_.path()); }
    std::string keep(const std::string& bytes) {
        const std::string name = sha256_of(bytes);
        must(blobs_->keep(name, bytes, "small " + bytes));
        return name;
    }
    std::vector<std::string> names() {
        std::vector<std::string> out;
        for (const Blobs::File& file : must(blobs_->all())) out.push_back(file.sha256);
        return out;
    }
    ScratchFolder scratch_;
    std::unique_ptr<Blobs> blobs_;
};

TEST_P(BlobsContract, KeepsBytesAsTheyCame) {
    std::string bytes(300'000, '\0');
    for (std::size_t i = 0; i < bytes.size(); ++i) bytes[i] = static_cast<char>(i * 31 + i / 7);
    const std::string name = keep(bytes);
    EXPECT_TRUE(blobs_->has(name));
    EXPECT_EQ(must(blobs_->bytes(name)), bytes);
    EXPECT_EQ(must(blobs_->thumbnail(name)), "small " + bytes);
    EXPECT_EQ(keep(bytes), name);  // again
    EXPECT_EQ(names().size(), 1u);
}

TEST_P(BlobsContract, SaysWhatIsNotThere) {
    const std::string name = sha256_of("nothing");
    EXPECT_FALSE(blobs_->has(name));
    EXPECT_EQ(blobs_->bytes(name).error().code, ProblemCode::kNotFound);
    EXPECT_EQ(blobs_->thumbnail(name).error().code, ProblemCode::kNotFound);
    EXPECT_EQ(blobs_->picture(name, "strip-0a").error().code, ProblemCode::kNotFound);
    must(blobs_->forget(name));
    must(blobs_->forget_pictures(name, {}));
}

TEST_P(BlobsContract, ListsAllHoweverManyThereAre) {
    std::vector<std::string> kept;
    for (int i = 0; i < 11; ++i) kept.push_back(keep(fmt::format("photograph {}", i)));
    EXPECT_THAT(names(), testing::UnorderedElementsAreArray(kept));
    for (const Blobs::File& file : must(blobs_->all())) {
        EXPECT_EQ(file.written.size(), 20u) << file.written;
        EXPECT_THAT(file.written, testing::AllOf(testing::StartsWith("20"), testing::EndsWith("Z")));
    }
    must(blobs_->forget(kept.back()));
    kept.pop_back();
    EXPECT_THAT(names(), testing::UnorderedElementsAreArray(kept));
}

TEST_P(BlobsContract, KeepsThePicturesOfAReadingUntilOthersTakeTheirPlace) {
    const std::string name = keep("front"), other = keep("back");
    must(blobs_->keep_picture(name, "strip-01", "one"));
    must(blobs_->keep_picture(name, "mark-02", "two"));
    must(blobs_->keep_picture(other, "strip-03", "three"));
    EXPECT_EQ(must(blobs_->picture(name, "strip-01")), "one");
    must(blobs_->forget_pictures(name, {"mark-02"}));
    EXPECT_FALSE(blobs_->picture(name, "strip-01"));
    EXPECT_EQ(must(blobs_->picture(name, "mark-02")), "two");
    EXPECT_EQ(must(blobs_->picture(other, "strip-03")), "three");
    must(blobs_->forget(name));
    EXPECT_FALSE(blobs_->has(name));
    EXPECT_FALSE(blobs_->picture(name, "mark-02"));
    EXPECT_THAT(names(), UnorderedElementsAre(other));
}

TEST_P(BlobsContract, TakesManyAtOnce) {
    std::vector<std::thread> all;
    for (int t = 0; t < 4; ++t)
        all.emplace_back([&, t] {
            for (int i = 0; i < 6; ++i) {
                const std::string bytes =
                    fmt::format("{} of {}", i, i % 2 == 0 ? 0 : t);  // half of them are the same
                must(blobs_->keep(sha256_of(bytes), bytes, "small"));
            }
        });
    for (std::thread& one : all) one.join();
    for (const std::string& name : names()) EXPECT_EQ(sha256_of(must(blobs_->bytes(name))), name);
    EXPECT_EQ(names().size(), 3u + 3u * 4u);
}

INSTANTIATE_TEST_SUITE_P(EveryPlace, BlobsContract, testing::ValuesIn(kKinds),
                         [](const auto& each) { return each.param.name; });

TEST(ObjectBlobs, AreRefusedWithTheReason) {
    const auto& [endpoint, key, secret] = objects();
    EXPECT_THAT(to_line(open_object_blobs(address_at(endpoint, ""), key, "wrong").error()),
                HasSubstr("does not let us in"));
    EXPECT_THAT(to_line(open_object_blobs(address_at(endpoint, "", "other"), key, secret).error()),
                HasSubstr("there is no such bucket"));
    EXPECT_THAT(to_line(open_object_blobs(address_at(endpoint, ""), "", "").error()),
                HasSubstr("set AWS_ACCESS_KEY_ID and AWS_SECRET_ACCESS_KEY"));
    EXPECT_THAT(to_line(open_object_blobs(address_at("http://127.0.0.1:1", ""), key, secret).error()),
                HasSubstr("the store of objects does not answer"));
}

TEST(ObjectBlobs, ReadTheirAddress) {
    const auto place =
        must(object_place("s3://archive/plates/2026?endpoint=https://objects.example:9000/&region=eu"));
    EXPECT_EQ(place.bucket, "archive");
    EXPECT_EQ(place.prefix, "plates/2026/");
    EXPECT_EQ(place.endpoint, "https://objects.example:9000");
    EXPECT_EQ(place.region, "eu");
    EXPECT_EQ(must(object_place("s3://archive?endpoint=http://h")).prefix, "");
    for (const char* wrong : {"s3://", "s3://b", "s3://b?endpoint=ftp://x", "s3://b?endpoint=http://h&secret=x"})
        EXPECT_EQ(object_place(wrong).error().code, ProblemCode::kBadInput) << wrong;
}

// Two servers open one folder; what the other is writing stays.
TEST(SharedFolder, LeavesWhatOthersAreWriting) {
    ScratchFolder scratch;
    const auto first = must(open_folder_blobs(scratch.path(), real_disk(), Sharing::kShared));
    must(write_file(scratch.path() / "incoming" / "half", scratch.path() / "incoming" / "making", "half"));
    const auto second = must(open_folder_blobs(scratch.path(), real_disk(), Sharing::kShared));
    EXPECT_TRUE(std::filesystem::exists(scratch.path() / "incoming" / "half"));
    must(open_folder_blobs(scratch.path()));
    EXPECT_FALSE(std::filesystem::exists(scratch.path() / "incoming" / "half"));
}

}  // namespace
}  // namespace footring::store
