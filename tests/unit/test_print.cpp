// Tidy: what is printed reads back as the same, looks the same the second time, and keeps every comment.
#include <doctest/doctest.h>

#include <filesystem>
#include <random>

#include "syntax/unit_rule.hpp"
#include "syntax_help.hpp"
#include "text/read_file.hpp"

using namespace mm;
using mm_test::Parsed;
using mm_test::round_trip_problem;

namespace {

std::string tidied(const std::string& text) {
  const Parsed parsed(text);
  return parsed.clean() ? parsed.tidy() : parsed.said();
}

/// Every rule, part and build text that the project carries.
std::vector<std::string> project_texts() {
  std::vector<std::string> texts;
  for (const char* folder : {"rules", "builds", "examples"}) {
    const std::filesystem::path root = std::filesystem::path(MATCHMARK_SOURCE_DIR) / folder;
    if (!std::filesystem::exists(root)) continue;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(root)) {
      const auto extension = entry.path().extension();
      if (extension == ".rules" || extension == ".parts" || extension == ".build")
        texts.push_back(read_file(entry.path().string(), 1U << 24U).bytes);
    }
  }
  std::sort(texts.begin(), texts.end());
  return texts;
}

/// Random expression trees whose leaves were read from a text.
class RandomExpressions {
 public:
  RandomExpressions(Parsed& parsed, unsigned seed) : p_(parsed), random_(seed) {
    for (const auto& expr : p_.tree.exprs) {
      if (std::holds_alternative<NameExpr>(expr.form)) names_.push_back(std::get<NameExpr>(expr.form).name);
      if (std::holds_alternative<QuantityExpr>(expr.form) || std::holds_alternative<TextExpr>(expr.form) ||
          std::holds_alternative<BoolExpr>(expr.form) || std::holds_alternative<DateExpr>(expr.form))
        leaves_.push_back(expr);
    }
  }

  ExprId make(int depth) {
    if (depth == 0) return pick(3) == 0 ? add(leaves_[pick(leaves_.size())].form) : plain();
    const auto next = [&] { return make(depth - 1 - static_cast<int>(pick(2)) * (depth > 1 ? 1 : 0)); };
    const auto maybe = [&] { return pick(2) == 0 ? ExprId::none() : next(); };
    switch (pick(16)) {
      case 0:
        return add(FieldExpr{next(), name()});
      case 1:
        return add(CallExpr{name(), {next(), next()}});
      case 2:
        return add(CallExpr{name(), {}});
      case 3:
        return add(UnaryExpr{UnaryOp::negate, next()});
      case 4:
        return add(UnaryExpr{UnaryOp::logical_not, next()});
      case 5:
        return add(WithinExpr{next(), next(), next()});
      case 6:
        return add(InRangeExpr{next(), plain(), next()});
      case 7:
        return add(pick(2) == 0 ? InTableExpr{{next()}, name()} : InTableExpr{{next(), next()}, name()});
      case 8:
        return add(IfExpr{next(), next(), next()});
      case 9:
        return add(
            LookupExpr{name(), {{name(), BinaryOp::eq, next()}, {name(), BinaryOp::le, next()}}, name()});
      case 10:
        return add(QuantifierExpr{QuantifierKind::some, over(binder(next())), maybe(), maybe()});
      case 11:
        return add(QuantifierExpr{QuantifierKind::every, over(binder(next())), maybe(), next()});
      case 12:
        return aggregate(next(), maybe());
      case 13:
        return add(pick(2) == 0 ? decltype(Expr::form)(MateExpr{next()}) : PartOfExpr{next()});
      default:
        return add(BinaryExpr{static_cast<BinaryOp>(pick(13)), next(), next()});
    }
  }

 private:
  std::size_t pick(std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(random_); }
  Name name() { return names_[pick(names_.size())]; }
  ExprId plain() { return add(NameExpr{name()}); }
  ExprId add(decltype(Expr::form) form) { return p_.tree.exprs.add({std::move(form), {}}); }
  BinderId over(Binder binder) { return p_.tree.binders.add(std::move(binder)); }
  Binder binder(ExprId start) {
    Binder b;
    switch (pick(4)) {
      case 0:
        b.domain = name();
        break;
      case 1:
        b.variable = name(), b.range_lo = plain(), b.range_hi = start;
        break;
      case 2:
        b.variable = name(), b.domain = name(), b.reach_from = start, b.reach_through = {name(), name()};
        break;
      default:
        b.variable = name(), b.domain = name();
    }
    return b;
  }
  ExprId aggregate(ExprId term, ExprId where) {
    Binder of;
    of.variable = name();
    of.domain = name();
    switch (pick(3)) {
      case 0:
        return add(AggregateExpr{AggregateKind::count, {}, over(of), where});
      case 1:
        return add(AggregateExpr{AggregateKind::max, term, {}, {}});
      default:
        return add(AggregateExpr{AggregateKind::sum, term, over(of), where});
    }
  }

  Parsed& p_;
  std::mt19937 random_;
  std::vector<Name> names_;
  std::vector<Expr> leaves_;
};

}  // namespace

TEST_CASE("one statement a line, two blanks a level, comments where they were") {
  CHECK(tidied("# top\n\n\n\nkind   wheel\"road wheel\"{face mount:lug.wheel # the flange\nsize:mm "
               "offset:length in -100mm..100mm\n"
               "# own line\n let b=size/2;let c=(a+b)*c # why\n\n\n # last\n}# end\n") ==
        "# top\n\nkind wheel \"road wheel\" {\n  face mount: lug.wheel  # the flange\n  size: mm\n"
        "  offset: length in -100 mm..100 mm\n  # own line\n  let b = size / 2\n  let c = (a + b) * c  # "
        "why\n\n  # last\n}  # end\n");
  CHECK(tidied("part a is b { x 1 y 2 mm }") == "part a is b { x 1  y 2 mm }\n");
  CHECK(tidied("part a is b {\n x 1 y 2 mm }") == "part a is b {\n  x 1\n  y 2 mm\n}\n");
  CHECK(tidied("part a is b {\nm{c 1 d 2}\nm.e 3\n}") == "part a is b {\n  m { c 1  d 2 }\n  m.e 3\n}\n");
  CHECK(tidied("part a is b { }") == "part a is b { }\n");
  CHECK(tidied("") == "");
}

TEST_CASE("tables stand in columns") {
  CHECK(tidied("table t{size:mm pitch:mm range n:text\n4.75 1..2 \"a\"\n10 12..13 \"bcd\"\nsource \"s\"}") ==
        "table t {\n  size: mm  pitch: mm range  n: text\n  4.75    1..2  \"a\"\n    10  12..13  \"bcd\"\n  "
        "source \"s\"\n}\n");
}

TEST_CASE("comments behind lines that follow each other are aligned") {
  CHECK(tidied("currency ABC # x\ncurrency DEF  # y\nchoice cc = a, b # z\n\ncurrency GHI # w\n") ==
        "currency ABC      # x\ncurrency DEF      # y\nchoice cc = a, b  # z\n\ncurrency GHI  # w\n");
}

TEST_CASE("a comment inside a statement stands above it") {
  CHECK(tidied("rule r {\n need n: a # first\n  + b = c # second\n}") ==
        "rule r {\n  # first\n  need n: a + b = c  # second\n}\n");
}

TEST_CASE("long lines break before and, or, when, has") {
  std::string text =
      "rule r {\n  need n: aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa = "
      "bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb and ccccccccccccc = d\n}\n";
  CHECK(tidied(text) ==
        "rule r {\n  need n: aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa = "
        "bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb\n"
        "      and ccccccccccccc = d\n}\n");
}

TEST_CASE("what reads as a unit is kept apart") {
  CHECK(needs_semicolon("mass 3 stone", "x 1", true));
  CHECK(needs_semicolon("a 5", "t 3 mm", true));
  CHECK_FALSE(needs_semicolon("a 5", "t 3 mm", false));
  CHECK_FALSE(needs_semicolon("a 5 mm", "t 3 mm", true));
  CHECK_FALSE(needs_semicolon("seat cone_60", "holes 5", true));
  CHECK(needs_semicolon("k adjustable 1..2 mm", "step 3 mm", false));
  for (const char* text :
       {"part p is k { a 5; t 3 mm }", "part p is k { mass 3 stone; x 1 }",
        "part p is k { k adjustable 1..2 mm; step 3 mm }",
        "part p is k {\n k adjustable 1..2 mm; step 3 mm }", "table t { a: mm b: mm\n 35; 1/2 in\n 91; V }",
        "rule r { for w: k let a = sum of x.b; need n: a }", "kind k { let a = 3; b: mm }",
        "designation d { form f \"x\" { a = 3; b = 4 } }", "part p is k { a 25 mm + -0.1 - 0.2 b 2 % }"})
    CHECK(round_trip_problem(text) == "");
}

TEST_CASE("the deepest trees that parse can be printed and compared") {
  std::string sum = "a", nested = "a";
  for (int i = 0; i < 990; ++i) sum += (i % 2 == 0 ? " + a" : " - a");
  for (int i = 0; i < 90; ++i) nested = "(" + nested + ") ^ -f(a)";
  CHECK(round_trip_problem("rule r { need n: " + sum + " = 1 }") == "");
  CHECK(round_trip_problem("rule r { need n: " + nested + " = 1 }") == "");
}

TEST_CASE("every text of the project survives tidying") {
  const auto texts = project_texts();
  CHECK(texts.size() > 20);
  for (const std::string& text : texts) CHECK(round_trip_problem(text) == "");
}

TEST_CASE("random expressions survive printing") {
  Parsed parsed(
      "rule r { need n: a + bee.c = 3 mm * 2.5 + 4 stone or yes or no or \"t\\\"x\" = d and 2026-03-14 = e + "
      "45% + 1 1/4 in }");
  REQUIRE_MESSAGE(parsed.clean(), parsed.said());
  RandomExpressions random(parsed, 7);
  for (int i = 0; i < 4000; ++i) {
    const ExprId expr = random.make(1 + i % 5);
    const std::string printed = print(expr, parsed.tree, parsed.sources, parsed.names);
    parsed.add("formula f(): x = " + printed);
    REQUIRE_MESSAGE(parsed.clean(), printed << "\n" << parsed.said());
    FileTree wanted = parsed.file();
    std::get<Boxed<FormulaDecl>>(wanted.declarations[0])->body = expr;
    CHECK_MESSAGE(same_tree(wanted, parsed.tree, parsed.file(), parsed.tree, parsed.sources), printed);
  }
}

TEST_CASE("texts changed at random parse without harm, and tidy when they are right") {
  const auto texts = project_texts();
  REQUIRE(!texts.empty());
  std::mt19937 random(11);
  const auto pick = [&](std::size_t n) {
    return std::uniform_int_distribution<std::size_t>(0, n - 1)(random);
  };
  std::size_t right = 0;
  for (int i = 0; i < 400; ++i) {
    std::string text = texts[pick(texts.size())];
    if (text.size() > 6000) text = text.substr(pick(text.size() - 6000), 6000);
    for (std::size_t k = pick(4); k-- > 0 && text.size() > 10;) {
      const std::size_t at = pick(text.size() - 8);
      const std::size_t length = 1 + pick(7);
      switch (pick(4)) {
        case 0:
          text.erase(at, length);
          break;
        case 1:
          text.insert(at, text.substr(pick(text.size() - 8), length));
          break;
        case 2:
          text[at] = "{}()[];:,.#\"\n 5a="[pick(17)];
          break;
        default:
          std::swap(text[at], text[at + length]);
      }
    }
    if (first_invalid_utf8(text)) continue;
    Parsed parsed(text);
    for (const Message& message : parsed.messages.all()) {
      CHECK(message.span.begin <= message.span.end);
      CHECK(message.span.end <= text.size());
    }
    if (!parsed.clean()) continue;
    ++right;
    CHECK(round_trip_problem(text) == "");
  }
  CHECK(right > 5);
}

TEST_CASE("trees that differ are told apart") {
  const auto same = [](const std::string& a, const std::string& b) {
    Parsed parsed(a);
    parsed.add(b);
    return same_tree(parsed.tree.files.at(0), parsed.tree, parsed.tree.files.at(1), parsed.tree,
                     parsed.sources);
  };
  CHECK(same("part a is b { x 1  mount { y 2 } }", "part a is b {\n x 1\n mount.y 2\n}"));
  CHECK_FALSE(same("part a is b { x 1 }", "part a is b { x 1.0 }"));
  CHECK_FALSE(same("part a is b { x 1 mm }", "part a is b { x 1 cm }"));
  CHECK_FALSE(same("part a is b { x 1 }", "part a is b { x -1 }"));
  CHECK_FALSE(same("part a is b { x ? }", "part a is b { x ? y ? }"));
  CHECK_FALSE(same("rule r { need n: a + b = c }", "rule r { need n: a - b = c }"));
  CHECK_FALSE(same("rule r { need n: a }", "rule r { should n: a }"));
  CHECK_FALSE(same("use \"a\"", "use \"b\""));
  CHECK_FALSE(same("use \"a\" # x", "use \"a\""));
}
