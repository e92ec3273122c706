// store/signature.h - signs a request to a store of objects that speaks S3: AWS Signature Version 4.
//   source  "Authenticating Requests (AWS Signature Version 4)", Amazon S3 API Reference; its worked examples are
//           tests of this file
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <string>
#include <string_view>

namespace footring::store {

struct SigningKey {
    std::string id, secret, region;  // the service is s3
};
struct ToSign {
    std::string method;                        // GET
    std::string path;                          // not encoded yet: "/photos/ab/abcdef"
    std::map<std::string, std::string> query;  // not encoded yet
    std::map<std::string, std::string>
        headers;                 // names in lower case; all of them are signed, `host` is among them
    std::string payload_sha256;  // 64 hexadecimal digits
};
// Percent-encodes all but A-Z a-z 0-9 - . _ ~, and the slash where it is to stay.
std::string percent_encoded(std::string_view text, bool keep_slashes);
// "a=1&b=x%2Fy", in the order that is signed.
std::string query_text(const std::map<std::string, std::string>& query);
// The value of the header Authorization. `moment`: "20260301T093000Z", also the header x-amz-date.
std::string authorization(const ToSign&, const SigningKey&, const std::string& moment);

}  // namespace footring::store
