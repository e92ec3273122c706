// server/paper_reply.h - a paper as it is sent to the browser: shown, not kept, and without any right to run or
// load. SPDX-License-Identifier: Apache-2.0
#pragma once

#include "papers/kinds.h"
#include "server/request.h"

namespace footring::server {

Reply paper_reply(papers::Made);

}  // namespace footring::server
