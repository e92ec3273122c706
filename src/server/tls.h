// server/tls.h - the certificate of a shared house, its own or one that is given.
//   Its own one is made at the first start: an ECDSA key on P-256, signed by itself, for all names of the machine,
//   in DATA/tls/ where only the owner can read it. Browsers do not know it; whoever opens the house for the first
//   time compares the fingerprint with the one that was printed. It is made anew a month before it ends, and when
//   it lacks a name that is asked for, with the names that it had besides; backups leave it out.
//   errors  kUnreadable: a file that is no certificate, no key, or the two do not belong together; kBadInput: over
//           since, or not valid yet; kStore: the disk refuses
//   source  RFC 5280 (certificates), RFC 8446 (TLS 1.3), RFC 9325 (how to use TLS)
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <openssl/ssl.h>

#include <filesystem>
#include <string>
#include <vector>

#include "base/problem.h"

namespace footring::server {

struct Certificate {
    std::filesystem::path certificate, key;  // PEM
    std::string fingerprint;                 // SHA-256 of the certificate: "AB:12:..."
    std::string until;                       // moment at which it ends
    bool own = false;                        // made by this program
    bool made_now = false;
};

// `names`: host names and addresses ("192.168.0.7", "fe80::1"); `now` a moment.
Expected<Certificate> own_certificate(const std::filesystem::path& folder, const std::vector<std::string>& names,
                                      const std::string& now);
Expected<Certificate> given_certificate(const std::filesystem::path& certificate, const std::filesystem::path& key,
                                        const std::string& now);

// TLS 1.2 and 1.3 with forward secrecy only. False: the library refuses the files.
bool use(SSL_CTX&, const Certificate&);

// The names of this machine and the addresses at which it is reached when it listens at one: all of IPv4 for
// "0.0.0.0", of both for "::", else that one. A certificate that named more would be made anew, and shown to
// everybody as a stranger, whenever an address that nobody uses comes or goes.
std::vector<std::string> names_of_this_machine(const std::string& listening);
// "[fe80::1]" for an address of IPv6, which a Host header writes in brackets; others stay as they are.
std::string as_authority(const std::string& name);

}  // namespace footring::server
