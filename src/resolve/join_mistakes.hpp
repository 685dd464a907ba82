// What is wrong with one join, told once for all the places it names.
#pragma once
#include <map>
#include <optional>
#include <tuple>

#include "resolve/context.hpp"

namespace mm {

class JoinMistakes {
 public:
  JoinMistakes(Context& context, const JoinDecl& decl) : context_(context), decl_(decl) {}

  /// What is added from now on was found at this place.
  void at(Symbol place) { place_ = place; }
  /// The code's text puts the places behind these arguments: those at which it is so, or "" where it is so at
  /// all of them.
  void add(Code code, Span span, std::vector<std::string> arguments, std::string hint = {},
           std::optional<Label> label = {});
  void tell();

 private:
  struct Mistake {
    Code code;
    Span span;
    std::vector<std::string> arguments;
    std::string hint;
    std::optional<Label> label;
    std::vector<Symbol> places;
  };
  std::string places_text(const Mistake& mistake) const;

  Context& context_;
  const JoinDecl& decl_;
  Symbol place_;
  std::vector<Mistake> mistakes_;
  std::map<std::tuple<std::uint32_t, std::uint32_t, Code, std::vector<std::string>>, std::size_t> index_;
};

}  // namespace mm
