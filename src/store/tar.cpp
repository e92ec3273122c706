// SPDX-License-Identifier: Apache-2.0
#include "store/tar.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cstring>

namespace footring::store {

namespace {

constexpr std::size_t kBlock = 512;
constexpr std::uint64_t kMostOctal = 077777777777;  // what eleven octal digits can say
constexpr std::size_t kMostPax = 64 * 1024;

struct Header {  // ustar; every field is text
    char name[100], mode[8], uid[8], gid[8], size[12], mtime[12], checksum[8], type, link[100], magic[6],
        version[2], user[32], group[32], major[8], minor[8], prefix[155], unused[12];
};
static_assert(sizeof(Header) == kBlock);

template <std::size_t n>
void set_octal(char (&field)[n], std::uint64_t value) {
    const std::string text = fmt::format("{:0{}o}", value, n - 1);
    std::memcpy(field, text.data(), n - 1);
}
template <std::size_t n>
std::string_view text_of(const char (&field)[n]) {
    return {field, static_cast<std::size_t>(std::find(field, field + n, '\0') - field)};
}
template <std::size_t n>
std::optional<std::uint64_t> octal(const char (&field)[n]) {
    std::string_view text = text_of(field);
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
    if (text.empty()) return 0;
    std::uint64_t value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value, 8);
    return error == std::errc{} && end == text.data() + text.size() ? std::optional(value) : std::nullopt;
}
std::uint64_t checksum_of(const Header& h) {
    const auto* bytes = reinterpret_cast<const unsigned char*>(&h);
    std::uint64_t sum = 0;
    for (std::size_t i = 0; i < kBlock; ++i) sum += bytes[i];
    for (const char c : h.checksum) sum += ' ' - static_cast<unsigned char>(c);  // counted as blanks
    return sum;
}
std::string block_of(Header& h) {
    std::memcpy(h.magic, "ustar", 6);
    std::memcpy(h.version, "00", 2);
    set_octal(h.mode, 0644);
    set_octal(h.uid, 0);
    set_octal(h.gid, 0);
    const std::string sum = fmt::format("{:06o}", checksum_of(h));
    std::memcpy(h.checksum, sum.data(), 6);
    h.checksum[6] = '\0';
    h.checksum[7] = ' ';
    return {reinterpret_cast<const char*>(&h), kBlock};
}
std::uint64_t padding_after(std::uint64_t size) { return (kBlock - size % kBlock) % kBlock; }

// "LENGTH key=value\n", where the length counts itself.
std::string pax_record(std::string_view key, std::string_view value) {
    const std::size_t rest = key.size() + value.size() + 3;
    std::size_t length = rest + 1;
    while (std::to_string(length).size() + rest != length) length = std::to_string(length).size() + rest;
    return fmt::format("{} {}={}\n", length, key, value);
}
std::optional<std::string> pax_value(std::string_view text, std::string_view key) {
    std::optional<std::string> found;
    while (!text.empty()) {
        std::size_t length = 0;
        const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), length);
        const auto digits = static_cast<std::size_t>(end - text.data());
        if (error != std::errc{} || length <= digits + 1 || length > text.size()) return std::nullopt;
        std::string_view record = text.substr(digits + 1, length - digits - 2);
        if (record.starts_with(key) && record.substr(key.size()).starts_with('='))
            found = std::string(record.substr(key.size() + 1));
        text.remove_prefix(length);
    }
    return found;
}

// Splits at a '/' so that both halves fit; false when no '/' does.
bool set_name(Header& h, const std::string& name) {
    if (name.size() <= sizeof h.name) {
        std::memcpy(h.name, name.data(), name.size());
        return true;
    }
    for (std::size_t at = name.find('/'); at != std::string::npos; at = name.find('/', at + 1)) {
        if (at > sizeof h.prefix || name.size() - at - 1 > sizeof h.name || at + 1 == name.size()) continue;
        std::memcpy(h.prefix, name.data(), at);
        std::memcpy(h.name, name.data() + at + 1, name.size() - at - 1);
        return true;
    }
    return false;
}

bool stays_inside(std::string_view name) {
    if (name.empty() || name.starts_with('/') || name.find('\0') != std::string_view::npos) return false;
    for (std::size_t begin = 0; begin <= name.size();) {
        const std::size_t end = std::min(name.find('/', begin), name.size());
        const std::string_view part = name.substr(begin, end - begin);
        if (part.empty() || part == "." || part == "..") return false;
        begin = end + 1;
    }
    return true;
}

}  // namespace

Expected<void> TarWriter::begin(const std::string& name, std::uint64_t size, std::int64_t seconds) {
    Header h{};
    std::string pax;
    if (!set_name(h, name)) {
        pax += pax_record("path", name);
        std::memcpy(h.name, name.data(), sizeof h.name);
    }
    if (size > kMostOctal) pax += pax_record("size", std::to_string(size));
    if (!pax.empty()) {
        Header before{};
        std::memcpy(before.name, "PaxHeaders/long", 15);
        set_octal(before.size, pax.size());
        set_octal(before.mtime, 0);
        before.type = 'x';
        if (auto ok = out_.write(block_of(before)); !ok) return ok;
        if (auto ok = out_.write(pax + std::string(padding_after(pax.size()), '\0')); !ok) return ok;
    }
    set_octal(h.size, std::min(size, kMostOctal));
    set_octal(h.mtime, static_cast<std::uint64_t>(std::max<std::int64_t>(seconds, 0)) & kMostOctal);
    h.type = '0';
    size_ = size;
    written_ = 0;
    return out_.write(block_of(h));
}

Expected<void> TarWriter::write(std::string_view part) {
    written_ += part.size();
    return out_.write(part);
}

Expected<void> TarWriter::end() {
    if (written_ != size_)
        return fail(ProblemCode::kStore, out_.path().string(), "a file changed while it was being copied",
                    "try again");
    return out_.write(std::string(padding_after(size_), '\0'));
}

Expected<void> TarWriter::finish() { return out_.write(std::string(2 * kBlock, '\0')); }

Expected<TarReader> TarReader::open(const std::filesystem::path& file) {
    auto in = InFile::open(file);
    if (!in) return std::unexpected(in.error());
    return TarReader(file, std::move(*in));
}

std::unexpected<Problem> TarReader::unreadable(std::string what) const {
    return fail(ProblemCode::kUnreadable, path_.string(), std::move(what), "take another backup");
}

Expected<std::string> TarReader::take(std::size_t bytes) {
    auto got = in_.read(bytes);
    if (!got || got->size() == bytes) return got;
    if (!any_) return unreadable("this is no backup of Footring");
    return unreadable(member_.name.empty() ? "the backup is incomplete"
                                           : fmt::format("the backup is incomplete: it ends in {}", member_.name));
}

Expected<std::optional<TarReader::Member>> TarReader::next() {
    for (std::uint64_t skip = left_ + padding_; skip > 0;) {
        const auto got = take(std::min<std::uint64_t>(skip, 1 << 16));
        if (!got) return std::unexpected(got.error());
        skip -= got->size();
    }
    left_ = padding_ = 0;
    std::optional<std::string> long_name, long_size;
    for (;;) {
        auto block = in_.read(kBlock);
        if (!block) return std::unexpected(block.error());
        if (block->empty() && any_) return std::nullopt;  // some programs leave the closing blocks out
        if (block->size() < kBlock)
            return any_ ? unreadable("the backup is incomplete") : unreadable("this is no backup of Footring");
        if (std::ranges::all_of(*block, [](char c) { return c == '\0'; })) return std::nullopt;
        Header h;
        std::memcpy(&h, block->data(), kBlock);
        const auto sum = octal(h.checksum), size = octal(h.size);
        if (!sum || !size || *sum != checksum_of(h))
            return any_ ? unreadable(fmt::format("the backup is damaged after {}", member_.name))
                        : unreadable("this is no backup of Footring");
        any_ = true;
        left_ = *size;
        padding_ = padding_after(*size);
        if (h.type == 'x' || h.type == 'g') {
            const auto text = read_whole(kMostPax);
            if (!text) return std::unexpected(text.error());
            if (auto rest = take(padding_); !rest) return std::unexpected(rest.error());
            if (h.type == 'x') long_name = pax_value(*text, "path"), long_size = pax_value(*text, "size");
            continue;
        }
        std::string name(text_of(h.name));
        if (const auto prefix = text_of(h.prefix); !prefix.empty() && std::memcmp(h.magic, "ustar", 6) == 0)
            name = std::string(prefix) + "/" + name;
        if (long_name) name = *long_name;
        while (name.starts_with("./")) name.erase(0, 2);
        if (long_size) {
            const auto [end, error] =
                std::from_chars(long_size->data(), long_size->data() + long_size->size(), left_);
            if (error != std::errc{}) return unreadable(fmt::format("the backup is damaged at {}", name));
            padding_ = padding_after(left_);
        }
        if (h.type == '5') {  // a folder; it comes with its files
            long_name.reset(), long_size.reset();
            continue;
        }
        if (h.type != '0' && h.type != '\0')
            return unreadable(fmt::format("{} in it is no ordinary file", name.empty() ? "something" : name));
        if (!stays_inside(name))
            return unreadable(fmt::format("'{}' in it is no name of a file in a folder of Footring", name));
        member_ = {name, left_};
        return member_;
    }
}

Expected<std::string> TarReader::read(std::size_t most) {
    auto got = take(static_cast<std::size_t>(std::min<std::uint64_t>(most, left_)));
    if (got) left_ -= got->size();
    return got;
}

Expected<std::string> TarReader::read_whole(std::size_t most) {
    if (left_ > most) return unreadable(fmt::format("{} in it is larger than it can be", member_.name));
    return read(most);
}

}  // namespace footring::store
