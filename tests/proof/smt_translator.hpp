// Turns the generator's tree into SMT-LIB terms. A division by nought and the mate of an open face are
// undefined in the language: every number comes with the condition under which it is defined, every claim as
// two.
#pragma once
#include <map>
#include <string>

#include "engine.hpp"

namespace mm_proof::smt {

template <class T>
const T& at_index(const std::vector<T>& list, int i) {
  return list[static_cast<std::size_t>(i)];
}

inline std::string rational(const Rational& value) {
  const std::string num = mpz_class(abs(value.get_num())).get_str() + ".0";
  const std::string text = value.get_den() == 1 ? num : "(/ " + num + " " + value.get_den().get_str() + ".0)";
  return value < 0 ? "(- " + text + ")" : text;
}

inline std::string all(const std::string& a, const std::string& b) {
  if (a == "false" || b == "false") return "false";
  return a == "true" ? b : b == "true" ? a : "(and " + a + " " + b + ")";
}
inline std::string any(const std::string& a, const std::string& b) {
  if (a == "true" || b == "true") return "true";
  return a == "false" ? b : b == "false" ? a : "(or " + a + " " + b + ")";
}
inline std::string denied(const std::string& a) {
  return a == "true" ? "false" : a == "false" ? "true" : "(not " + a + ")";
}

/// When it is surely so and when it is surely not; neither: undefined.
struct Claim {
  std::string yes, no;
};
struct Term {
  std::string value, defined = "true";
};

class Translator {
 public:
  Translator(const Scene& scene, const World& world)
      : scene_(scene),
        world_(world),
        entities_(scene.var_names.size()),
        numbers_(scene.var_names.size()),
        lists_(scene.var_names.size()) {}

  void bind(const Engine::Found& found);
  Claim truth(const Node& node);
  /// Declarations and limits of the cells that were named.
  std::string cells() const;

 private:
  static const Node& kid(const Node& node, std::size_t i);
  bool entity(const Node& node, EntityRef& out);
  std::string cell(EntityRef e, int attribute);
  std::string fresh(const char* prefix);
  Term word(const Node& node);
  Claim compare(const Node& node);
  Term both(const char* sign, const Node& node);
  Term extreme(const Term& a, const Term& b, bool least);
  Term number(const Node& node);
  Term power(const Node& node);
  std::vector<EntityRef> domain(const Node& node);
  Claim where_of(const Node& node);
  Claim quantified(const Node& node);
  Claim over_range(const Node& node);
  Term aggregate(const Node& node);

  const Scene& scene_;
  const World& world_;
  std::vector<EntityRef> entities_;
  std::vector<Term> numbers_;
  std::vector<std::vector<EntityRef>> lists_;
  std::map<std::string, std::pair<EntityRef, int>> named_;
  int next_ = 0;
};

}  // namespace mm_proof::smt
