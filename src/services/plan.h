// services/plan.h - services tied to the Book: treatments and forms looked up once, at the door.
//   in      services and the compositions written beside them; supplied ones are known besides. A word for a form
//   is
//           its id, its name without regard to case and punctuation, or "aat:NUMBER"; an AAT term is asked only
//           where no other word of the line is met in the open packs, since one term may stand for several forms.
//   out     lines with forms; a line that no shape of the service is recorded in is kept, never to be filled
//   errors  every fault at once: unknown treatments and compositions, forms that no open pack has (a supplied line
//           is then only noted), two services of one id, a service in which not one line can be filled
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <span>
#include <string>
#include <vector>

#include "base/settings.h"
#include "book/book.h"
#include "services/service.h"

namespace footring::services {

struct PlannedLine {
    std::string name;
    bool in_setting = true;  // else a serving piece
    int count = 1;           // per setting, or in all
    std::vector<book::Ref<book::Form>> forms;
    std::string trade_size;
    bool made = true;  // some shape of the service is recorded in one of the forms and in the trade size
    int places = 0;    // in the whole service
};
struct PlannedService {
    Service given;
    Composition composition;
    int settings = 0;
    std::vector<book::Ref<book::Treatment>> treatments;
    std::vector<PlannedLine> lines;  // of the settings first
    double least_odds = 0.5;
};
struct Plan {
    std::vector<PlannedService> services;
    std::vector<std::string> notes;  // what can never be filled, as sentences
};

// `known`: compositions of the caller's (files, store) that go before supplied ones of the same id.
std::expected<Plan, std::vector<Problem>> plan(std::span<const Service> services,
                                               std::span<const Composition> known, const book::Book&,
                                               const Settings&, const std::string& where);

// The forms that a word stands for; empty: none.
std::vector<book::Ref<book::Form>> forms_called(const book::Book&, std::string_view word);

}  // namespace footring::services
