// SPDX-License-Identifier: Apache-2.0
#include "server/tls.h"

#include <arpa/inet.h>
#include <fmt/format.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <openssl/err.h>
#include <openssl/pem.h>
#include <openssl/rand.h>
#include <openssl/x509v3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <memory>

#include "base/text.h"
#include "store/disk.h"
#include "store/time.h"

namespace footring::server {

namespace {

namespace fs = std::filesystem;

constexpr std::int64_t kDay = 24 * 3600;
constexpr std::int64_t kLasts = 825 * kDay;  // browsers refuse longer ones
constexpr std::int64_t kRenewedBefore = 30 * kDay;
constexpr std::size_t kMostNames = 40;  // in a certificate that keeps its former names

template <auto Free>
struct FreeWith {
    template <class T>
    void operator()(T* thing) const {
        Free(thing);
    }
};
using Cert = std::unique_ptr<X509, FreeWith<X509_free>>;
using Key = std::unique_ptr<EVP_PKEY, FreeWith<EVP_PKEY_free>>;
using Bio = std::unique_ptr<BIO, FreeWith<BIO_free_all>>;

std::unexpected<Problem> library_problem(const std::string& where) {
    char text[256];
    ::ERR_error_string_n(::ERR_get_error(), text, sizeof text);
    ::ERR_clear_error();
    return fail(ProblemCode::kOurFault, where, fmt::format("OpenSSL refuses ({})", text), "report this sentence");
}

std::string text_of(BIO& bio) {
    char* data = nullptr;
    const long size = BIO_get_mem_data(&bio, &data);
    return size > 0 ? std::string(data, static_cast<std::size_t>(size)) : std::string();
}

bool is_address(const std::string& name) {
    unsigned char bytes[sizeof(in6_addr)];
    return ::inet_pton(AF_INET, name.c_str(), bytes) == 1 || ::inet_pton(AF_INET6, name.c_str(), bytes) == 1;
}

std::string moment_of(const ASN1_TIME* time) {
    std::tm parts{};
    ::ASN1_TIME_to_tm(time, &parts);
    return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", parts.tm_year + 1900, parts.tm_mon + 1,
                       parts.tm_mday, parts.tm_hour, parts.tm_min, parts.tm_sec);
}
void set_time(ASN1_TIME* time, const std::string& moment) {
    std::string plain;  // "20260301093000Z"
    for (const char c : moment)
        if ((c >= '0' && c <= '9') || c == 'Z') plain += c;
    ::ASN1_TIME_set_string_X509(time, plain.c_str());
}

std::string fingerprint_of(X509& certificate) {
    unsigned char digest[EVP_MAX_MD_SIZE];
    unsigned int size = 0;
    ::X509_digest(&certificate, ::EVP_sha256(), digest, &size);
    std::string out;
    for (unsigned int i = 0; i < size; ++i) out += fmt::format("{}{:02X}", i == 0 ? "" : ":", digest[i]);
    return out;
}

bool extend(X509& certificate, int id, const std::string& value) {
    X509V3_CTX context;
    X509V3_set_ctx_nodb(&context);
    ::X509V3_set_ctx(&context, &certificate, &certificate, nullptr, nullptr, 0);
    X509_EXTENSION* extension = ::X509V3_EXT_conf_nid(nullptr, &context, id, value.c_str());
    if (extension == nullptr) return false;
    const bool added = ::X509_add_ext(&certificate, extension, -1) == 1;
    ::X509_EXTENSION_free(extension);
    return added;
}

std::string alternative_names(const std::vector<std::string>& names) {
    std::string out;
    for (const std::string& name : names)
        out += fmt::format("{}{}:{}", out.empty() ? "" : ",", is_address(name) ? "IP" : "DNS", name);
    return out;
}

bool covers(X509& certificate, const std::vector<std::string>& names) {
    return std::ranges::all_of(names, [&](const std::string& name) {
        return is_address(name) ? ::X509_check_ip_asc(&certificate, name.c_str(), 0) == 1
                                : ::X509_check_host(&certificate, name.data(), name.size(), 0, nullptr) == 1;
    });
}

std::vector<std::string> names_in(X509& certificate) {
    std::vector<std::string> out;
    const std::unique_ptr<GENERAL_NAMES, FreeWith<GENERAL_NAMES_free>> all(
        static_cast<GENERAL_NAMES*>(::X509_get_ext_d2i(&certificate, NID_subject_alt_name, nullptr, nullptr)));
    for (int i = 0; i < sk_GENERAL_NAME_num(all.get()); ++i) {
        const GENERAL_NAME& each = *sk_GENERAL_NAME_value(all.get(), i);
        if (each.type != GEN_DNS && each.type != GEN_IPADD) continue;
        const ASN1_STRING& held = each.type == GEN_DNS ? *each.d.dNSName : *each.d.iPAddress;
        const unsigned char* bytes = ::ASN1_STRING_get0_data(&held);
        const auto size = static_cast<std::size_t>(::ASN1_STRING_length(&held));
        if (each.type == GEN_DNS) {
            out.emplace_back(bytes, bytes + size);
        } else if (size == 4 || size == 16) {
            char text[INET6_ADDRSTRLEN] = {};
            ::inet_ntop(size == 4 ? AF_INET : AF_INET6, bytes, text, sizeof text);
            out.emplace_back(text);
        }
    }
    return out;
}

struct Pair {
    Cert certificate;
    Key key;
};

Expected<Pair> new_pair(const std::vector<std::string>& names, const std::string& now) {
    const std::string where = "certificate";
    Pair made{Cert(::X509_new()), Key(::EVP_EC_gen("P-256"))};
    if (!made.certificate || !made.key) return library_problem(where);
    X509& x = *made.certificate;
    ::X509_set_version(&x, X509_VERSION_3);
    unsigned char serial[16];
    if (::RAND_bytes(serial, sizeof serial) != 1) return library_problem(where);
    serial[0] &= 0x7F;
    BIGNUM* number = ::BN_bin2bn(serial, sizeof serial, nullptr);
    ::BN_to_ASN1_INTEGER(number, ::X509_get_serialNumber(&x));
    ::BN_free(number);
    const auto end = store::seconds_after(now, kLasts), begin = store::seconds_after(now, -kDay);
    if (!end || !begin) return std::unexpected(end ? begin.error() : end.error());
    set_time(::X509_getm_notBefore(&x), *begin);  // clocks in the house may be a little behind
    set_time(::X509_getm_notAfter(&x), *end);
    ::X509_set_pubkey(&x, made.key.get());
    X509_NAME* name = ::X509_get_subject_name(&x);
    const std::string common = "Footring";
    ::X509_NAME_add_entry_by_txt(name, "CN", MBSTRING_UTF8, reinterpret_cast<const unsigned char*>(common.c_str()),
                                 -1, -1, 0);
    ::X509_set_issuer_name(&x, name);
    const bool extended =
        extend(x, NID_basic_constraints, "critical,CA:FALSE") &&
        extend(x, NID_key_usage, "critical,digitalSignature") && extend(x, NID_ext_key_usage, "serverAuth") &&
        extend(x, NID_subject_key_identifier, "hash") && extend(x, NID_subject_alt_name, alternative_names(names));
    if (!extended || ::X509_sign(&x, made.key.get(), ::EVP_sha256()) == 0) return library_problem(where);
    return made;
}

// With the rights 0600 from the first moment on.
class SecretCalls final : public store::DiskCalls {
  public:
    int open(const char* path, int flags, mode_t) override { return DiskCalls::open(path, flags, 0600); }
};

Expected<void> keep(const Pair& made, const fs::path& folder) {
    if (auto ok = store::make_folder(folder); !ok) return ok;
    ::chmod(folder.c_str(), 0700);
    const Bio certificate(::BIO_new(::BIO_s_mem())), key(::BIO_new(::BIO_s_mem()));
    if (::PEM_write_bio_X509(certificate.get(), made.certificate.get()) != 1 ||
        ::PEM_write_bio_PKCS8PrivateKey(key.get(), made.key.get(), nullptr, nullptr, 0, nullptr, nullptr) != 1)
        return library_problem("certificate");
    SecretCalls disk;
    // Both in one file: a crash between two would leave a pair that does not belong together.
    return store::write_file(folder / "own.pem", folder / "own.pem.new", text_of(*key) + text_of(*certificate),
                             disk);
}

Expected<Pair> read_pair(const fs::path& certificate, const fs::path& key) {
    const auto no = [](const fs::path& file, std::string what) {
        return fail(ProblemCode::kUnreadable, file.string(), std::move(what),
                    "give a certificate and its private key as PEM, without a passphrase");
    };
    const auto text_of = [](const fs::path& file) {
        auto text = store::read_file(file);
        // Other files of a house come back from a backup; these were named by a person.
        if (!text && text.error().code == ProblemCode::kNotFound) text.error().remedy = "check the path";
        return text;
    };
    const auto certificate_text = text_of(certificate), key_text = text_of(key);
    if (!certificate_text) return std::unexpected(certificate_text.error());
    if (!key_text) return std::unexpected(key_text.error());
    const auto source = [](const std::string& text) {
        return Bio(::BIO_new_mem_buf(text.data(), static_cast<int>(text.size())));
    };
    Pair out{Cert(::PEM_read_bio_X509(source(*certificate_text).get(), nullptr, nullptr, nullptr)),
             Key(::PEM_read_bio_PrivateKey(
                 source(*key_text).get(), nullptr, [](char*, int, int, void*) { return 0; }, nullptr))};
    ::ERR_clear_error();
    if (!out.certificate) return no(certificate, "there is no certificate in it");
    if (!out.key) return no(key, "there is no private key in it that can be read");
    if (::X509_check_private_key(out.certificate.get(), out.key.get()) != 1) {
        ::ERR_clear_error();
        return no(key, "this key is not that of the certificate");
    }
    return out;
}

Certificate told(const Pair& pair, const fs::path& certificate, const fs::path& key) {
    Certificate out;
    out.certificate = certificate;
    out.key = key;
    out.fingerprint = fingerprint_of(*pair.certificate);
    out.until = moment_of(::X509_get0_notAfter(pair.certificate.get()));
    return out;
}

}  // namespace

Expected<Certificate> own_certificate(const fs::path& folder, const std::vector<std::string>& names,
                                      const std::string& now) {
    const fs::path file = folder / "own.pem";
    std::vector<std::string> all = names;
    std::error_code error;
    if (fs::exists(file, error)) {
        const auto kept = read_pair(file, file);
        if (!kept) return std::unexpected(kept.error());
        const auto soon = store::seconds_after(now, kRenewedBefore);
        if (!soon) return std::unexpected(soon.error());
        Certificate out = told(*kept, file, file);
        out.own = true;
        if (out.until > *soon && covers(*kept->certificate, names)) return out;
        // A laptop that comes back to where it was is still known there.
        if (out.until > now)
            for (const std::string& name : names_in(*kept->certificate))
                if (all.size() < kMostNames && std::ranges::find(all, name) == all.end()) all.push_back(name);
    }
    const auto made = new_pair(all, now);
    if (!made) return std::unexpected(made.error());
    if (auto ok = keep(*made, folder); !ok) return std::unexpected(ok.error());
    Certificate out = told(*made, file, file);
    out.own = out.made_now = true;
    return out;
}

Expected<Certificate> given_certificate(const fs::path& certificate, const fs::path& key, const std::string& now) {
    const auto pair = read_pair(certificate, key);
    if (!pair) return std::unexpected(pair.error());
    Certificate out = told(*pair, certificate, key);
    const std::string from = moment_of(::X509_get0_notBefore(pair->certificate.get()));
    if (out.until <= now || from > now)
        return fail(ProblemCode::kBadInput, certificate.string(),
                    out.until <= now ? fmt::format("this certificate ended {}", out.until)
                                     : fmt::format("this certificate begins only {}", from),
                    "give one that is valid now, and see that the clock is right");
    return out;
}

bool use(SSL_CTX& context, const Certificate& certificate) {
    ::SSL_CTX_set_min_proto_version(&context, TLS1_2_VERSION);
    ::SSL_CTX_set_options(&context, SSL_OP_NO_COMPRESSION | SSL_OP_NO_RENEGOTIATION |
                                        SSL_OP_CIPHER_SERVER_PREFERENCE | SSL_OP_IGNORE_UNEXPECTED_EOF);
    return ::SSL_CTX_set_cipher_list(&context, "ECDHE+AESGCM:ECDHE+CHACHA20") == 1 &&
           ::SSL_CTX_use_certificate_chain_file(&context, certificate.certificate.c_str()) == 1 &&
           ::SSL_CTX_use_PrivateKey_file(&context, certificate.key.c_str(), SSL_FILETYPE_PEM) == 1 &&
           ::SSL_CTX_check_private_key(&context) == 1;
}

std::vector<std::string> names_of_this_machine(const std::string& listening) {
    std::vector<std::string> out = {"localhost", "127.0.0.1", "::1"};
    const auto add = [&](const std::string& name) {
        if (!name.empty() && std::ranges::find(out, name) == out.end()) out.push_back(name);
    };
    char host[256] = {};
    if (::gethostname(host, sizeof host - 1) == 0 && *host != '\0') {
        const std::string name = lower(host);
        add(name);
        if (name.find('.') == std::string::npos) add(name + ".local");
    }
    const bool all_of_four = listening == "0.0.0.0", all_of_both = listening == "::";
    if (!all_of_four && !all_of_both) {
        add(listening);
        return out;
    }
    ifaddrs* all = nullptr;
    if (::getifaddrs(&all) != 0) return out;
    for (const ifaddrs* each = all; each != nullptr; each = each->ifa_next) {
        if (each->ifa_addr == nullptr || (each->ifa_flags & IFF_UP) == 0) continue;
        char text[INET6_ADDRSTRLEN] = {};
        if (each->ifa_addr->sa_family == AF_INET)
            ::inet_ntop(AF_INET, &reinterpret_cast<sockaddr_in*>(each->ifa_addr)->sin_addr, text, sizeof text);
        else if (all_of_both && each->ifa_addr->sa_family == AF_INET6)
            ::inet_ntop(AF_INET6, &reinterpret_cast<sockaddr_in6*>(each->ifa_addr)->sin6_addr, text, sizeof text);
        add(text);
    }
    ::freeifaddrs(all);
    return out;
}

std::string as_authority(const std::string& name) {
    return name.find(':') == std::string::npos ? name : fmt::format("[{}]", name);
}

}  // namespace footring::server
