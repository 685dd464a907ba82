#include "resolve/join_mistakes.hpp"

#include <fmt/format.h>

namespace mm {

void JoinMistakes::add(Code code, Span span, std::vector<std::string> arguments, std::string hint,
                       std::optional<Label> label) {
  const auto [known, added] =
      index_.try_emplace(std::tuple(span.begin, span.end, code, arguments), mistakes_.size());
  if (added) mistakes_.push_back({code, span, std::move(arguments), std::move(hint), std::move(label), {}});
  auto& places = mistakes_[known->second].places;
  if (place_ && (places.empty() || places.back() != place_)) places.push_back(place_);
}

std::string JoinMistakes::places_text(const Mistake& mistake) const {
  // that nothing is fitted there is no news without the place
  const bool everywhere = mistake.places.size() == decl_.places.size() && mistake.code != Code::not_fitted;
  if (everywhere || mistake.places.empty()) return {};
  constexpr std::size_t most_named = 12;
  std::string list;
  for (std::size_t i = 0; i < mistake.places.size() && i < most_named; ++i)
    list += (i == 0 ? " at " : ", ") + context_.text(mistake.places[i]);
  if (mistake.places.size() > most_named)
    list += fmt::format(" and {} more", mistake.places.size() - most_named);
  return list;
}

void JoinMistakes::tell() {
  for (Mistake& mistake : mistakes_) {
    mistake.arguments.push_back(places_text(mistake));
    Message& message = context_.messages.add(mistake.code, mistake.span, std::move(mistake.arguments),
                                             std::move(mistake.hint));
    if (mistake.label) message.labels.push_back(std::move(*mistake.label));
  }
}

}  // namespace mm
