// A text against one pattern of a designation.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "resolve/types.hpp"

namespace mm {

inline constexpr std::size_t max_size_length = 400;  // bytes of a text that is taken apart

/// The place of a field in the designation; no_reg where it has none of that name.
std::uint32_t field_index(const DesignationDef& def, Symbol name);

/// What a piece took last is given back first; the pieces taken stand on a stack.
class Matcher {
 public:
  enum class Letters { as_written, large_or_small };  // of the pattern's own text

  Matcher(Context& context, const DesignationDef& def, const std::vector<PatternPiece>& pieces,
          std::string_view text, Letters letters);
  bool run();

  // of a run that was true
  std::vector<std::optional<ConstValue>>& fields() { return fields_; }
  /// The text with the pattern's own text as the pattern has it.
  std::string corrected() const;

 private:
  static constexpr std::size_t no_limit = std::string_view::npos;

  struct Taken {  // by a piece
    std::size_t at, length;
  };

  std::size_t next_length(std::size_t piece, std::size_t at, std::size_t below) const;
  std::size_t longest(const ReadType& type, std::size_t at) const;
  bool can_be(const ReadType& type, std::string_view text) const;
  bool is_literal(std::string_view text, std::string_view literal) const;
  void set_fields();

  Context& context_;
  const DesignationDef& def_;
  const std::vector<PatternPiece>& pieces_;
  std::vector<ReadType> types_;
  std::string_view text_;
  Letters letters_;
  std::vector<Taken> taken_;
  std::vector<std::optional<ConstValue>> fields_;
};

}  // namespace mm
