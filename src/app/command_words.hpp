#pragma once
// The command line as words, before they are checked, and what they come to.

#include "app/options.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace app {

/// Text of the options, before it is checked.
struct Raw {
    CheckOptions check;
    FixOptions fix;
    DiffOptions diff;
    std::vector<std::string> revisions;
    BaselineOptions baseline;
    std::string baseline_task;
    std::vector<std::string> baseline_files;
    std::vector<std::string> formats;
    std::vector<std::string> levels;
    std::string detail = "findings";
    std::string fail_on = "error";
    std::string colour = "auto";
    std::string men = "letters";
    std::string limit;
    std::string most_warnings;
    std::string effort;
    std::string jobs;
    std::vector<std::string> fen;
    std::string goal;
    std::string key;
    std::optional<std::string> solution;
    std::optional<std::string> certificate;
    DrawOptions draw;
    std::vector<std::string> drawn_fen;
    std::string below;
    std::vector<std::string> marks;
    std::string shard;
    std::vector<std::string> parts;
    VerifyOptions verify;
    HookOptions hook;
    ExplainOptions explain;
    std::string explain_format = "text";
    std::string schema;
    std::string hook_run;
    std::vector<std::string> hook_words;
};

/// The command of that name with its options checked.
[[nodiscard]] Result<Command> command_of(std::string_view command, const Raw& raw);

} // namespace app
