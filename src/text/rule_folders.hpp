// Looks through the rule folders, for hints beside an error only. Bounded: so many folders deep, files and
// bytes; links are not followed, and what cannot be read is passed over.
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace mm {

/// Paths of the files of this name in the folders and below them, as "FOLDER/below/name", sorted.
std::vector<std::string> files_named(const std::vector<std::string>& folders, std::string_view name);

/// Files in the folders in which a line begins with the words, as "kind hub"; at most `most`, sorted.
std::vector<std::string> files_declaring(const std::vector<std::string>& folders, std::string_view sort,
                                         std::string_view name, std::size_t most);

/// Of "rules/hub.rules" and "_trials": "rules/hub_trials.rules" where there is such a file, else "". Nothing
/// is opened.
std::string file_beside(const std::string& file, std::string_view ending);

/// The path to write in a `use` of the file `user`, or "" where there is no way.
std::string path_from(const std::string& user, const std::string& file);

}  // namespace mm
