// cli/commands.h - the commands of `footring`, in the order in which help and the manual show them.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>
#include <vector>

#include "cli/command.h"

namespace footring::cli {

const std::vector<Command>& all_commands();
const Command* command_named(std::string_view);  // null: there is none

Command account_command();
Command apart_command();
Command assemblage_command();
Command backup_command();
Command card_command();
Command check_command();
Command clue_command();
Command code_command();
Command completions_command();
Command date_command();
Command examine_command();
Command export_command();
Command glyph_command();
Command import_command();
Command key_command();
Command leach_command();
Command manual_command();
Command paper_command();
Command reply_command();
Command restore_command();
Command sequence_command();
Command services_command();
Command serve_command();
Command read_command();
Command reader_command();
Command reexamine_command();
Command merge_command();
Command move_command();
Command catalogue_command();
Command settings_command();
Command unseen_command();
Command version_command();
Command worth_command();
Command years_command();

}  // namespace footring::cli
