// store/object_blobs.h - photographs in a store of objects that speaks S3: keys PREFIX/photos/ab/abcdef...,
// PREFIX/thumbs/..., PREFIX/readings/ab/abcdef.../strip-0a1b...; the same names as in a folder.
//   An object is there whole or not at all, and is there for everybody when the call returns. Requests are signed
//   (signature.h); what fails for a moment is tried again, up to five times.
//   errors  kBadInput: the address cannot be read; kStore: the store of objects does not answer or refuses
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "store/signature.h"
#include "store/tables.h"

namespace footring::store {

// "s3://BUCKET/PREFIX?endpoint=https://HOST:PORT&region=REGION"; the prefix may be empty, the region is us-east-1
// when absent, and the endpoint is always named: no company's is assumed.
struct ObjectPlace {
    std::string bucket, prefix, endpoint, region;
};
bool is_object_address(std::string_view);
Expected<ObjectPlace> object_place(const std::string& address);

Expected<std::unique_ptr<Blobs>> open_object_blobs(const std::string& address, const std::string& key_id,
                                                   const std::string& secret);

}  // namespace footring::store
