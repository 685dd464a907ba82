// What is said about wrong text: words, place, and that one error does not hide the next.
#include <doctest/doctest.h>

#include <chrono>
#include <set>
#include <sstream>

#include "syntax_help.hpp"

using namespace mm;
using mm_test::Parsed;

namespace {

std::set<Code>& shown() {
  static std::set<Code> codes;
  return codes;
}

std::string said(const std::string& text) {
  const Parsed parsed(text);
  for (const Message& message : parsed.messages.all()) shown().insert(message.code);
  return parsed.said();
}

std::string repeated(std::string_view text, std::size_t times) {
  std::string result;
  for (std::size_t i = 0; i < times; ++i) result += text;
  return result;
}

std::string in_rule(const std::string& expression) {
  return said("rule r {\n  need n: " + expression + "\n}\n");
}

}  // namespace

TEST_CASE("messages name what was expected, after what, and where") {
  CHECK(said("unit stone 6.35 kg") == "1:12 expected '=' after 'stone', found '6.35'\n");
  CHECK(said("kind wheel \"road wheel\"") ==
        "1:24 expected '{' after '\"road wheel\"', found the end of the file\n");
  CHECK(said("kind wheel { size wheel_size }") ==
        "1:19 expected ':' and a type after 'size', found 'wheel_size'\n");
  CHECK(said("part a iz b { }") == "1:8 expected 'is' and a kind's name after 'a', found 'iz'\n");
  CHECK(said("part a is b { c 108 mm +-  }") == "1:28 expected a number after '+-', found '}'\n");
  CHECK(said("part a is b { c 108 mm +-\n }") ==
        "1:26 expected a number after '+-', found the end of the line\n");
  CHECK(said("part a is b {\n  holes\n  offset 3 mm\n}") ==
        "2:8 expected a value after 'holes', found the end of the line\n");
  CHECK(said("part a is b { per 5 }") ==
        "1:15 expected an attribute's name after '{', but 'per' is a reserved word\n");
  CHECK(in_rule("a and or b") == "2:17 expected a condition after 'and', found 'or'\n");
  CHECK(in_rule("t[a = 1.b") == "2:18 expected ']' or ',' after '1', found '.'\n");
  CHECK(in_rule("every x: k where a") ==
        "2:29 expected 'has' and a condition after 'a', found the end of the line\n");
  CHECK(said("interface i {\n  need a: b\n  when c need d: e\n}") ==
        "3:3 'when' stands behind the condition that it limits, not before it\n");
  CHECK(said(repeated("so it goes\n", 8)) ==
        "1:1 this does not look like a matchmark file: its first 8 statements begin with no word of the "
        "language\n");
  CHECK(said("prt a is b { x 1 }") == "1:1 no statement begins with 'prt' here\n");
  CHECK(said("interface i {\n  sid a { }\n}") == "2:3 no statement begins with 'sid' here\n");
}

TEST_CASE("hints say what would be right") {
  const Parsed near("prt a is b { x 1 }");
  CHECK(near.messages.all().at(0).hint == "did you mean 'part'?");
  const Parsed far("rule r { zzz }");
  CHECK(far.messages.all().at(0).hint == "possible here: for, let, need, should, caution, also");
  const Parsed spread("part a is b { c 1 mm +- }");
  CHECK(Parsed("part a is b { c 12,5 mm }").messages.all().at(0).hint ==
        "a decimal point is written '.', as 12.5");
  CHECK(spread.messages.all().at(0).hint == "a spread is written 25.40 mm +- 0.02 mm, or 4.5 in +- 2 %");
}

TEST_CASE("messages of single forms") {
  CHECK(in_rule("a < b < c") == "2:17 comparisons do not chain\n");
  CHECK(in_rule("x in 3 + 4") == "2:16 expected a table's name or a range after 'in'\n");
  CHECK(said("part a is b { d 2026-02-30 }") == "1:17 there is no day 2026-02-30\n");
  CHECK(said("part a is b {\n  n \"abc\n}") == "2:5 this text has no closing quote on its line\n");
  CHECK(said("part a is b { n \"a\\x\" }") == "1:19 '\\x' is not an escape\n");
  CHECK(said("use \"a\\") == "1:5 this text has no closing quote on its line\n");
  CHECK(said("}") == "1:1 this '}' closes nothing\n");
  CHECK(said("table t { a: mm  b: mm\n 1 2\n 3\n 4 5 }") ==
        "3:2 this row has 1 cell, but the table has 2 columns\n");
  CHECK(said("table t { 1 2 }") == "1:11 this table has no columns before its first cell\n");
  CHECK(said("table t { a: mm 1 b: mm 2 }") == "1:19 the column 'b' stands after the first row\n");
  CHECK(said("kind k { a: mm \"x\" \"y\" }") == "1:20 \"y\" is said twice\n");
  CHECK(said("build b { join a.b.c d { x y.z } }") == "1:16 expected one name, not a path\n");
  CHECK(said("part p is k { " + repeated("a.", 16) + "b 1 }") == "1:47 a path of more than 16 names\n");
  CHECK(
      said("rule r { need n: a { remedy \"x {a\n} y\" } }").starts_with("1:29 a text stands on one line\n"));
}

TEST_CASE("a missing closing brace is found where the next declaration begins") {
  const Parsed parsed("part a is b {\n  x 1\npart c is d {\n  y 2\n}\nprt\n");
  for (const Message& message : parsed.messages.all()) shown().insert(message.code);
  CHECK(parsed.said() ==
        "3:1 expected '}' before 'part': a block is still open\n6:1 no statement begins with 'prt' here\n");
  const Message& first = parsed.messages.all().at(0);
  REQUIRE(first.labels.size() == 1);
  CHECK(parsed.sources.place(first.labels[0].span).line == 1);
  CHECK(parsed.sources.place(first.labels[0].span).column == 13);
  CHECK(parsed.file().declarations.size() == 1);
  CHECK(said("part a is b {\n  m {\n    x 1\n") ==
        "3:8 expected '}' before the end of the file: a block is still open\n");
}

TEST_CASE("a missing opening brace does not hide the block") {
  CHECK(said("kind w \"x\"\n  size: mm\n  face a b\n}\nkind v { c d }") ==
        "1:11 expected '{' after '\"x\"', found the end of the line\n"
        "3:10 expected ':' and INTERFACE.SIDE after 'a', found 'b'\n5:12 expected ':' and a type after 'c', "
        "found 'd'\n");
}

TEST_CASE("one wrong statement does not hide the next") {
  CHECK(said("part a is b {\n  x 1 +\n  y ]\n  z 3 mm\n}\nunit u 4\nkind k { a b; c d }\n") ==
        "2:8 expected a number after '+', found the end of the line\n"
        "3:5 expected a value or a block after 'y', found ']'\n"
        "6:8 expected '=' after 'u', found '4'\n"
        "7:12 expected ':' and a type after 'a', found 'b'\n"
        "7:17 expected ':' and a type after 'c', found 'd'\n");
  // what belongs to a wrong statement is not taken for another: its block, and its further lines
  CHECK(said("interface i {\n  need a b {\n    because \"x\"\n  }\n  need c: d +\n      * e\n      and f\n  "
             "need g h\n}\n") ==
        "2:10 expected ':' and a condition after 'a', found 'b'\n"
        "5:14 expected a value after '+', found the end of the line\n"
        "8:10 expected ':' and a condition after 'g', found 'h'\n");
  CHECK(said("rule r {\n  let a =\n  let b = c\n  need d: e +\n  need f: g\n}") ==
        "2:10 expected a value after '=', found the end of the line\n"
        "4:14 expected a value after '+', found the end of the line\n");
  CHECK(said("part a iz b { x 1 ] }\n") ==
        "1:8 expected 'is' and a kind's name after 'a', found 'iz'\n1:19 expected an attribute's name after "
        "'1', found ']'\n");
}

TEST_CASE("right statements round a wrong one are kept") {
  const Parsed parsed("part a is b {\n  x 1\n  y ]\n  z 3 mm\n}\nprt\npart c is d { }");
  CHECK(parsed.file().declarations.size() == 2);
  CHECK(parsed.only<PartDecl>().assignments.size() == 2);
}

TEST_CASE("nesting and length have limits, each with one message") {
  const std::string deep = " nested more than 100 levels deep\n";
  const std::string lengthy = " an expression of more than 1000 levels\n";
  const std::size_t n = 10000;
  CHECK(in_rule(repeated("(", n) + "a" + repeated(")", n)).ends_with(deep));
  CHECK(in_rule(repeated("not ", n) + "a").ends_with(deep));
  CHECK(in_rule(repeated("- ", n) + "a").ends_with(deep));
  CHECK(in_rule(repeated("a^", n) + "a").ends_with(deep));
  CHECK(in_rule(repeated("if a then b else ", n) + "a").ends_with(deep));
  CHECK(in_rule(repeated("some x: k has ", n) + "a").ends_with(deep));
  CHECK(in_rule(repeated("mate of ", n) + "a").ends_with(deep));
  CHECK(in_rule(repeated("f(", n) + "a" + repeated(")", n)).ends_with(deep));
  CHECK(in_rule(repeated("t[a = ", n) + "a" + repeated("].b", n)).ends_with(deep));
  CHECK(in_rule(repeated("sum of ", n) + "a").ends_with(deep));
  CHECK(in_rule(repeated("a + ", n) + "a").ends_with(lengthy));
  CHECK(in_rule(repeated("a * ", n) + "a").ends_with(lengthy));
  CHECK(in_rule(repeated("a and ", n) + "a").ends_with(lengthy));
  CHECK(in_rule("a" + repeated(".b", n)).ends_with(lengthy));
  CHECK(said("part p is k " + repeated("{ m ", n) + "1" + repeated("}", n)) ==
        "1:79 a path of more than 16 names\n");
  CHECK(in_rule(repeated("(", 90) + "a" + repeated(")", 90)).empty());
  CHECK(in_rule(repeated("a + ", 900) + "a = b").empty());
}

TEST_CASE("hostile text stays cheap") {
  const auto start = std::chrono::steady_clock::now();
  CHECK(said(repeated("}", 200000)).starts_with("1:1 this '}' closes nothing\n"));
  CHECK(!said(repeated("\"", 200000)).empty());
  CHECK(!said(repeated("x {", 200000)).empty());
  CHECK(!said("part p is k { a " + repeated("b b ", 50000)).empty());
  CHECK(!said("rule r { need a: " + repeated("(b ", 100000)).empty());
  CHECK(said(repeated("part a is b { x 5 ] } ", 20000)).find("more than 1000 errors in this file") ==
        std::string::npos);
  const Parsed many(repeated("part a is b { x 5 ] } ", 20000));
  CHECK(many.messages.all().size() == 1001);
  CHECK(many.messages.all().back().code == Code::too_many_errors);
  shown().insert(Code::too_many_errors);
  CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(60));
}

TEST_CASE("the line shown keeps to the page, also where much of it is spelled out") {
  const std::string steering = repeated("\x1b\u202e", 40);
  for (const std::string& text :
       {"kind k \"" + steering + " \\q near " + steering + "\" { }\n", "kind k { " + steering + " }\n",
        "kind k { s: " + repeated("x", 300) + " ? }\n"}) {
    const Parsed parsed(text);
    REQUIRE(!parsed.messages.all().empty());
    std::istringstream lines(render(parsed.messages.all()[0], parsed.sources));
    for (std::string line; std::getline(lines, line);) {
      CAPTURE(line);
      if (line.find(" | ") != std::string::npos) CHECK(line.size() <= 80);
    }
  }
}

TEST_CASE("every message of this step was shown above") {
  const std::set<Code> all = {
#define MM_MESSAGE(code, weight, text) Code::code,
#include "messages/codes_syntax.def"
#undef MM_MESSAGE
  };
  for (const Code code : all) CHECK_MESSAGE(shown().contains(code), code_name(code));
}
