// SPDX-License-Identifier: Apache-2.0
#include "store/object_blobs.h"

#include <expat.h>
#include <fmt/chrono.h>
#include <fmt/format.h>
#include <httplib.h>

#include <algorithm>
#include <chrono>
#include <thread>
#include <vector>

#include "store/sha256.h"

namespace footring::store {

namespace {

using namespace std::chrono_literals;

constexpr int kTries = 5;
constexpr std::chrono::milliseconds kFirstPause = 100ms;  // twice as long before each further try
constexpr int kConnectSeconds = 10, kAnswerSeconds = 60;

struct Object {
    std::string key, written;  // written: "2026-03-01T09:30:00Z"
};
struct Listed {
    std::vector<Object> objects;
    std::string next;  // empty: that was all
};

// The parts of a ListObjectsV2 answer that we need.
class ListReader {
  public:
    static std::optional<Listed> read(const std::string& xml) {
        ListReader reader;
        const std::unique_ptr<std::remove_pointer_t<XML_Parser>, decltype(&XML_ParserFree)> parser(
            XML_ParserCreate("UTF-8"), &XML_ParserFree);
        XML_SetUserData(parser.get(), &reader);
        XML_SetElementHandler(parser.get(), &ListReader::begin, &ListReader::end);
        XML_SetCharacterDataHandler(parser.get(), &ListReader::text);
        if (XML_Parse(parser.get(), xml.data(), static_cast<int>(xml.size()), 1) != XML_STATUS_OK)
            return std::nullopt;
        if (!reader.truncated_) reader.listed_.next.clear();
        return std::move(reader.listed_);
    }

  private:
    static void begin(void* self, const char* name, const char**) {
        auto& reader = *static_cast<ListReader*>(self);
        reader.said_.clear();
        if (std::string_view(name) == "Contents") reader.listed_.objects.emplace_back();
    }
    static void text(void* self, const char* letters, int size) {
        static_cast<ListReader*>(self)->said_.append(letters, static_cast<std::size_t>(size));
    }
    static void end(void* self, const char* element) {
        auto& reader = *static_cast<ListReader*>(self);
        const std::string_view name(element);
        auto& objects = reader.listed_.objects;
        if (name == "Key" && !objects.empty()) objects.back().key = reader.said_;
        // With or without a fraction of the second; the store writes moments without.
        if (name == "LastModified" && !objects.empty()) objects.back().written = reader.said_.substr(0, 19) + "Z";
        if (name == "IsTruncated") reader.truncated_ = reader.said_ == "true";
        if (name == "NextContinuationToken") reader.listed_.next = reader.said_;
    }
    Listed listed_;
    std::string said_;
    bool truncated_ = false;
};

class ObjectBlobs final : public Blobs {
  public:
    ObjectBlobs(ObjectPlace place, SigningKey key)
        : place_(std::move(place)),
          key_(std::move(key)),
          host_(place_.endpoint.substr(place_.endpoint.find("://") + 3)) {}

    Expected<void> keep(const std::string& sha256, std::string_view bytes, std::string_view thumbnail) override {
        // The photograph last, and in forget() first: where it is, its small picture is too.
        if (auto ok = put(named("thumbs", sha256), thumbnail); !ok) return ok;
        return put(named("photos", sha256), bytes);
    }
    Expected<std::string> bytes(const std::string& sha256) const override { return fetch("photos", sha256); }
    Expected<std::string> thumbnail(const std::string& sha256) const override { return fetch("thumbs", sha256); }
    bool has(const std::string& sha256) const override {
        const auto answer = ask("HEAD", named("photos", sha256), {}, "");
        return answer && answer->status == 200;
    }
    Expected<std::vector<File>> all() const override {
        const auto objects = list("photos/");
        if (!objects) return std::unexpected(objects.error());
        std::vector<File> out;
        for (const Object& object : *objects) {
            const std::string name = object.key.substr(object.key.rfind('/') + 1);
            if (is_sha256(name)) out.push_back({name, object.written});
        }
        return out;
    }
    Expected<void> forget(const std::string& sha256) override {
        for (const char* part : {"photos", "thumbs"})
            if (auto ok = remove(named(part, sha256)); !ok) return ok;
        return forget_pictures(sha256, {});
    }
    Expected<void> keep_picture(const std::string& sha256, const std::string& name,
                                std::string_view bytes) override {
        return put(pictures_of(sha256) + name, bytes);
    }
    Expected<std::string> picture(const std::string& sha256, const std::string& name) const override {
        return content(pictures_of(sha256) + name, sha256, "there is no such picture of it",
                       "read the photograph again");
    }
    Expected<void> forget_pictures(const std::string& sha256, const std::vector<std::string>& but) override {
        const auto objects = list(pictures_of(sha256));
        if (!objects) return std::unexpected(objects.error());
        for (const Object& object : *objects)
            if (std::ranges::find(but, object.key.substr(object.key.rfind('/') + 1)) == but.end())
                if (auto ok = remove(object.key.substr(place_.prefix.size())); !ok) return ok;
        return {};
    }
    // Whether it answers, knows the bucket and lets us in.
    Expected<void> check() const {
        const auto answer = ask("GET", "", {{"list-type", "2"}, {"max-keys", "1"}, {"prefix", place_.prefix}}, "");
        if (!answer) return std::unexpected(answer.error());
        if (answer->status == 200) return {};
        return std::unexpected(refused(answer->status));
    }

  private:
    static std::string named(const char* part, const std::string& sha256) {
        return fmt::format("{}/{}/{}", part, sha256.substr(0, 2), sha256);
    }
    static std::string pictures_of(const std::string& sha256) {
        return fmt::format("readings/{}/{}/", sha256.substr(0, 2), sha256);
    }
    std::string where() const { return fmt::format("{} at {}", place_.bucket, place_.endpoint); }

    Problem refused(int status) const {
        const auto problem = [&](std::string what, std::string remedy) {
            return Problem{ProblemCode::kStore, where(), std::move(what), std::move(remedy)};
        };
        if (status == 403)
            return problem("the store of objects does not let us in",
                           "check the key and the secret, what they may do with this bucket, and the clock of this "
                           "machine");
        if (status == 404) return problem("there is no such bucket", "make the bucket first, or correct its name");
        return problem(fmt::format("the store of objects refused with status {}", status),
                       "see what it says of this bucket, then try again");
    }

    // One request, tried again while the other side is in trouble. `key`: under the prefix; empty: the bucket
    // itself.
    Expected<httplib::Response> ask(const std::string& method, const std::string& key,
                                    const std::map<std::string, std::string>& query, std::string_view body) const {
        std::string said = "no answer";
        for (int tried = 0; tried < kTries; ++tried) {
            if (tried > 0) std::this_thread::sleep_for(kFirstPause * (1 << (tried - 1)));
            const auto now = std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
            const std::string moment =
                fmt::format("{:%Y%m%dT%H%M%SZ}", fmt::gmtime(std::chrono::system_clock::to_time_t(now)));
            ToSign signing{method,
                           "/" + place_.bucket + (key.empty() ? "" : "/" + place_.prefix + key),
                           query,
                           {},
                           sha256_of(body)};
            signing.headers = {
                {"host", host_}, {"x-amz-date", moment}, {"x-amz-content-sha256", signing.payload_sha256}};
            httplib::Request request;
            request.method = method;
            request.path = percent_encoded(signing.path, true);
            if (!query.empty()) request.path += "?" + query_text(query);
            for (const auto& [name, value] : signing.headers) request.set_header(name, value);
            request.set_header("Authorization", authorization(signing, key_, moment));
            request.body = body;
            httplib::Client client(place_.endpoint);
            client.set_connection_timeout(kConnectSeconds);
            client.set_read_timeout(kAnswerSeconds);
            client.set_write_timeout(kAnswerSeconds);
            client.set_url_encode(false);  // it is encoded as it was signed
            const auto answer = client.send(request);
            if (answer && answer->status < 500) return *answer;
            said = answer ? fmt::format("status {}", answer->status) : httplib::to_string(answer.error());
        }
        return fail(ProblemCode::kStore, where(), fmt::format("the store of objects does not answer ({})", said),
                    "check that it runs and can be reached, then try again");
    }
    Expected<void> put(const std::string& key, std::string_view content) {
        const auto answer = ask("PUT", key, {}, content);
        if (!answer) return std::unexpected(answer.error());
        if (answer->status == 200 || answer->status == 201) return {};
        return std::unexpected(refused(answer->status));
    }
    Expected<void> remove(const std::string& key) {
        const auto answer = ask("DELETE", key, {}, "");
        if (!answer) return std::unexpected(answer.error());
        if (answer->status == 200 || answer->status == 204 || answer->status == 404) return {};
        return std::unexpected(refused(answer->status));
    }
    Expected<std::string> content(const std::string& key, const std::string& sha256, const char* what,
                                  const char* remedy) const {
        const auto answer = ask("GET", key, {}, "");
        if (!answer) return std::unexpected(answer.error());
        if (answer->status == 200) return answer->body;
        if (answer->status == 404)
            return fail(ProblemCode::kNotFound, fmt::format("photograph {}", sha256), what, remedy);
        return std::unexpected(refused(answer->status));
    }
    Expected<std::string> fetch(const char* part, const std::string& sha256) const {
        return content(named(part, sha256), sha256, "there is no such photograph",
                       "add it again, or bring it back from a backup");
    }
    Expected<std::vector<Object>> list(const std::string& under) const {
        std::vector<Object> out;
        for (std::string next;;) {
            std::map<std::string, std::string> query{{"list-type", "2"}, {"prefix", place_.prefix + under}};
            if (!next.empty()) query["continuation-token"] = next;
            const auto answer = ask("GET", "", query, "");
            if (!answer) return std::unexpected(answer.error());
            if (answer->status != 200) return std::unexpected(refused(answer->status));
            auto listed = ListReader::read(answer->body);
            if (!listed)
                return fail(ProblemCode::kStore, where(), "its list of objects cannot be read",
                            "check that the endpoint speaks S3");
            out.insert(out.end(), listed->objects.begin(), listed->objects.end());
            next = listed->next;
            if (next.empty()) return out;
        }
    }

    ObjectPlace place_;
    SigningKey key_;
    std::string host_;
};

}  // namespace

bool is_object_address(std::string_view text) { return text.starts_with("s3://"); }

Expected<ObjectPlace> object_place(const std::string& address) {
    const auto wrong = [&](std::string what) {
        return fail(ProblemCode::kBadInput, "--photos", std::move(what),
                    "write s3://BUCKET/PREFIX?endpoint=https://HOST:PORT&region=REGION");
    };
    ObjectPlace place;
    place.region = "us-east-1";
    const std::size_t question = std::min(address.find('?'), address.size());
    const std::string path = address.substr(5, question - 5);
    const std::size_t slash = std::min(path.find('/'), path.size());
    place.bucket = path.substr(0, slash);
    if (slash < path.size()) place.prefix = path.substr(slash + 1);
    if (!place.prefix.empty() && place.prefix.back() != '/') place.prefix += '/';
    for (std::size_t begin = question + 1; begin < address.size();) {
        const std::size_t end = std::min(address.find('&', begin), address.size());
        const std::string part = address.substr(begin, end - begin);
        if (part.starts_with("endpoint=")) place.endpoint = part.substr(9);
        else if (part.starts_with("region=")) place.region = part.substr(7);
        else return wrong(fmt::format("'{}' is not known", part));
        begin = end + 1;
    }
    while (place.endpoint.ends_with('/')) place.endpoint.pop_back();
    if (place.bucket.empty()) return wrong("no bucket is named");
    if (!place.endpoint.starts_with("http://") && !place.endpoint.starts_with("https://"))
        return wrong("no endpoint is named");
    return place;
}

Expected<std::unique_ptr<Blobs>> open_object_blobs(const std::string& address, const std::string& key_id,
                                                   const std::string& secret) {
    auto place = object_place(address);
    if (!place) return std::unexpected(place.error());
    if (key_id.empty() || secret.empty())
        return fail(ProblemCode::kBadInput, "--photos", "the key of the store of objects is not given",
                    "set AWS_ACCESS_KEY_ID and AWS_SECRET_ACCESS_KEY in the environment");
    const std::string region = place->region;
    auto blobs = std::make_unique<ObjectBlobs>(std::move(*place), SigningKey{key_id, secret, region});
    if (auto ok = blobs->check(); !ok) return std::unexpected(ok.error());
    return blobs;
}

}  // namespace footring::store
