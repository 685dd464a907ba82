// Rules that a helper compiles in a project of its own are, once taken over, as if they had been compiled in
// their place: what they hold, what is judged by them, and what is said of them.
#include <doctest/doctest.h>

#include <fmt/format.h>

#include "judged_text.hpp"

using namespace mm;
using mm_test::JudgedText;

namespace {

constexpr int many = 60, tries = 500;

/// Each rule with a number, a word, a size and a unit that no other has, and that of another one too.
std::string text_of(const std::string& last = "") {
  std::string text =
      "designation belt_size \"{ribs: count}PK{length: mm}\"\n"
      "kind wheel { width: length  load: force  belt: belt_size  mark: text  form: one of flat, round }\n"
      "part a is wheel { width 41 mm  load 50 N  belt \"5PK930\"  mark \"m7\"  form round }\n"
      "build b { fit a: a }\n";
  for (int i = 0; i < many; ++i)
    text += fmt::format(
        "rule r{0} {{\n  for w: wheel where w.width > {0} mm\n  let room = w.width - {0}.5 mm\n"
        "  need n{0}: room > 3 mm and (every x in 0 N/mm..{0} N/mm has x <= 44 N/mm) when w.form != flat {{\n"
        "    because \"{{room}} against {{w.load / {1} kN}}\"\n  }}\n"
        "  should s{0}: w.belt = \"{0}PK930\" or w.mark = \"m{0}\" or w.mark = \"other\"\n}}\n",
        i, i + 1);
  return text + last;
}

std::string words_of(const JudgedText& text, const SymbolicSet& set, bool sizes) {
  if (set.all) return "any";
  std::string out;
  for (const std::uint32_t member : set.members)
    out += sizes ? text.project.model.designation_consts[DesignationConstId{member}].text + ";"
                 : std::string(text.names.text(Symbol{member})) + ";";
  return out;
}

std::string program_text(const JudgedText& text, const Program& program) {
  const Model& model = text.project.model;
  std::string out;
  for (const Block& block : program.blocks)
    for (const Op& op : block.ops) {
      out += fmt::format("{} {} {} {} {} {}", static_cast<int>(op.code), op.target, op.a, op.b, op.c,
                         op.origin.index);
      if (op.code == OpCode::number)
        out += " " + decimal_text(model.numbers[NumberId{op.payload}].exact.lo_value);
      else if (op.code == OpCode::symbolic)
        out +=
            " " + words_of(text, model.sets[SymbolicSetId{op.payload}], op.result == TypeKind::designation);
      else
        out += fmt::format(" {}", op.payload);
      out += "\n";
    }
  for (const Quantifier& q : program.quantifiers) out += q.unit != nullptr ? q.unit->text + "\n" : "-\n";
  for (const Type& type : program.types)
    out += type.choices ? words_of(text, model.sets[type.choices], false) + "\n" : "";
  return out;
}

std::string rules_text(const JudgedText& text) {
  const Model& model = text.project.model;
  std::string out;
  for (const RuleDef& rule : model.rules) {
    out += std::string(text.names.text(rule.name)) + "\n" + program_text(text, rule.where_program);
    for (const RequirementId id : rule.requirements) {
      const RequirementDef& def = model.requirements[id];
      CHECK(&model.rules[def.rule] == &rule);
      out += std::string(text.names.text(def.name)) + "\n" + program_text(text, def.program);
    }
  }
  for (const Finding& finding : text.results.findings)
    out += fmt::format("{} {}\n", text.names.text(model.requirements[finding.requirement].name),
                       static_cast<int>(finding.cases[0].outcome.verdict));
  return out;
}

/// What is said of a text that is in error.
std::string said_of(const std::string& text, Helpers* helpers) {
  try {
    const JudgedText judged(text, {}, helpers);
  } catch (const std::runtime_error& error) {
    return error.what();
  }
  return {};
}

}  // namespace

TEST_CASE("rules compiled apart are those compiled in their place") {
  Helpers helpers(1);
  if (helpers.size() == 0) return;  // the system gives no thread
  const JudgedText here(text_of());
  CHECK(here.project.held == nullptr);
  CHECK(here.project.model.rules.size() == many);
  bool taken = false;
  for (int i = 0; i < tries && !taken; ++i) {  // a helper that is not awake in time is not waited for
    const JudgedText apart(text_of(), {}, &helpers);
    taken = apart.project.held != nullptr;
    CHECK(rules_text(here) == rules_text(apart));
  }
  CHECK(taken);
}

TEST_CASE("what is wrong in rules compiled apart is said as it is in their place") {
  Helpers helpers(1);
  const std::string wrong = "rule last { for w: wheel  need x: w.width > 3 kg  need y: w.wdth > 3 mm }\n";
  const std::string said = said_of(text_of(wrong), nullptr);
  CHECK(said.find("wdth") != std::string::npos);
  CHECK(said == said_of(text_of(wrong), &helpers));
  CHECK(said_of("part a is wheel { width 3 mm }\n" + text_of(), nullptr) ==
        said_of("part a is wheel { width 3 mm }\n" + text_of(), &helpers));
}
