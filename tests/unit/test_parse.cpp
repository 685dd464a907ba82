// Text to tree: every construct takes its shape.
#include <doctest/doctest.h>

#include "expression_shape.hpp"

using namespace mm;
using mm_test::Parsed;
using mm_test::Shape;
using mm_test::shape;

namespace {

/// The unit that the number of `a 5 ...` takes, or "none".
std::string unit_after(const std::string& text) {
  const Parsed parsed("part p is k { " + text + "\n}");
  if (!parsed.clean()) return parsed.said();
  const auto& value =
      parsed.tree.values[parsed.tree.assignments[parsed.only<PartDecl>().assignments][0].value];
  const auto& quantity = parsed.tree.quantities[std::get<QuantityValue>(value.form).quantity];
  return quantity.has_unit() ? parsed.text(parsed.tree.unit_of(quantity).span) : "none";
}

const Value& value_of(const Parsed& parsed, std::size_t i = 0) {
  return parsed.tree.values[parsed.tree.assignments[parsed.only<PartDecl>().assignments][i].value];
}

Parsed part(const std::string& text) { return Parsed("part p is k {\n" + text + "\n}"); }

}  // namespace

TEST_CASE("values of parts") {
  const Parsed p = part(
      "a 25.40 mm +- 0.02 mm\nb 25 mm +0.021 -0\nc 12.5..13.0 mm\nd 10 mm..1 in\ne >= 20 mm\nf <= 4\ng ?\nh "
      "cone_60\n"
      "i left, right\nj \"M10x1.0\"\nk 2026-03-14\nl -35 mm ± 2 % per measured \"vernier\"\nm yes\nn 41/9\no "
      "1 1/4 in");
  REQUIRE_MESSAGE(p.clean(), p.said());
  const auto quantity = [&](QuantityId id) -> const QuantitySyntax& { return p.tree.quantities[id]; };
  const auto words = [&](std::size_t i) {
    return p.tree.words[std::get<WordsValue>(value_of(p, i).form).words];
  };
  const auto& a = std::get<QuantityValue>(value_of(p, 0).form);
  CHECK(a.spread == Spread::symmetric);
  CHECK(p.text(quantity(a.plus()).number().span) == "0.02");
  CHECK_FALSE(a.minus());
  const auto& b = std::get<QuantityValue>(value_of(p, 1).form);
  CHECK(b.spread == Spread::limits);
  CHECK(p.text(quantity(b.plus()).number().span) == "0.021");
  CHECK(p.text(quantity(b.minus()).number().span) == "0");
  CHECK_FALSE(quantity(b.minus()).negative());
  const auto& c = std::get<RangeValue>(value_of(p, 2).form);
  CHECK_FALSE(quantity(c.lo).has_unit());
  CHECK(p.text(quantity(c.hi).span()) == "13.0 mm");
  CHECK(p.text(quantity(std::get<RangeValue>(value_of(p, 3).form).lo).span()) == "10 mm");
  CHECK_FALSE(std::get<RangeValue>(value_of(p, 4).form).hi);
  CHECK_FALSE(std::get<RangeValue>(value_of(p, 5).form).lo);
  CHECK(std::holds_alternative<UnknownValue>(value_of(p, 6).form));
  CHECK(p.name(words(7)[0]) == "cone_60");
  CHECK(words(8).size() == 2);
  CHECK(p.tree.texts[std::get<TextValue>(value_of(p, 9).form).text].text == "M10x1.0");
  CHECK(std::get<DateValue>(value_of(p, 10).form).date.month == 3);
  const Value& l = value_of(p, 11);
  const auto& minus = std::get<QuantityValue>(l.form);
  CHECK(quantity(minus.quantity).negative());
  CHECK(p.name(p.tree.units[quantity(minus.plus()).unit][0].name) == "percent");
  CHECK(p.tree.evidence_of(l)->grade == Grade::measured);
  CHECK(p.tree.texts[p.tree.evidence_of(l)->note].text == "vernier");
  CHECK(p.tree.evidence_of(value_of(p, 12)) == nullptr);
  CHECK(p.name(words(12)[0]) == "yes");
  CHECK(p.text(quantity(std::get<QuantityValue>(value_of(p, 13).form).quantity).number().span) == "41/9");
  CHECK(p.text(quantity(std::get<QuantityValue>(value_of(p, 14).form).quantity).span()) == "1 1/4 in");
}

TEST_CASE("a text with escapes says what they stand for") {
  const Parsed p = part("a \"one \\\"two\\\" \\\\\"\nb \"three\"");
  REQUIRE_MESSAGE(p.clean(), p.said());
  CHECK(p.tree.texts[std::get<TextValue>(value_of(p, 0).form).text].text == "one \"two\" \\");
  CHECK(p.tree.texts[std::get<TextValue>(value_of(p, 1).form).text].text == "three");
}

TEST_CASE("adjustable values") {
  const Parsed p = part(
      "a adjustable 0.7..7 MPa step 0.05 MPa\nb adjustable sums of 3 x 0.10 mm, 2 x 0.20 mm\n"
      "c adjustable one of 10 mm, 12 mm\nd adjustable 1..2");
  REQUIRE_MESSAGE(p.clean(), p.said());
  const auto adjustable = [&](std::size_t i) { return std::get<AdjustableValue>(value_of(p, i).form); };
  const auto written = [&](std::size_t i, std::size_t at) {
    return p.text(p.tree.quantities[adjustable(i).quantities[at]].span());
  };
  CHECK(adjustable(0).form == AdjustableValue::Form::stepped_range);
  CHECK(written(0, 1) == "7 MPa");
  CHECK(written(0, 2) == "0.05 MPa");
  CHECK(adjustable(1).form == AdjustableValue::Form::sums);
  REQUIRE(adjustable(1).quantities.size() == 4);
  CHECK(written(1, 2) == "2");
  CHECK(written(1, 3) == "0.20 mm");
  CHECK(adjustable(2).form == AdjustableValue::Form::one_of);
  CHECK(adjustable(2).quantities.size() == 2);
  CHECK(adjustable(3).form == AdjustableValue::Form::range);
}

TEST_CASE("a word behind a number is its unit only where it must be") {
  CHECK(unit_after("a 5 mm b 3") == "mm");
  CHECK(unit_after("a 60 GBP state in_hand") == "GBP");
  CHECK(unit_after("a 5 holes 3") == "none");
  CHECK(unit_after("a 3 stone") == "stone");
  CHECK(unit_after("a 3 stone; b 2") == "stone");
  CHECK(unit_after("a 3 stone +- 1 b 2") == "stone");
  CHECK(unit_after("a 3 stone per tried b 2") == "stone");
  CHECK(unit_after("a 5\nmm 3") == "none");
  CHECK(unit_after("a 5 mount { x 1 }") == "none");
  CHECK(unit_after("a 5 b >= 3 mm") == "none");
  CHECK(unit_after("a 90 N*m") == "N*m");
  CHECK(unit_after("a 100 km/h") == "km/h");
  CHECK(unit_after("a 45%") == "%");
  CHECK(unit_after("a 4.5in") == "in");
  CHECK(unit_after("a 3 # stone") == "none");
  CHECK(shape("a = 3 stone and b") == "((a = 3:stone1) and b)");
  CHECK(shape("a = 3 stone * 2") == "(a = (3:stone1 * 2))");
}

TEST_CASE("blocks of assignments become paths") {
  const Parsed p = part("lower.taper 0.125\nmount { circle 108 mm  holes 5 }\na { b.c { d ? } e 1 }");
  REQUIRE_MESSAGE(p.clean(), p.said());
  std::string paths;
  std::string places;
  for (const Assignment& assignment : p.tree.assignments[p.only<PartDecl>().assignments]) {
    const WrittenPath path = written_path(p.tree, p.names, assignment);
    for (const Name& name : path.names) {
      paths += "." + p.name(name);
      places += "." + p.text(name.span);
    }
    paths += " ";
    places += " ";
  }
  CHECK(paths == ".lower.taper .mount.circle .mount.holes .a.b.c.d .a.e ");
  CHECK(places == paths);
}

TEST_CASE("units, choices, formulas and groups") {
  const Parsed p(
      "unit stone = 6.35029318 kg\ncurrency GBP\nchoice seat = cone_60, ball\nuse \"a/b.rules\"\n"
      "formula d(s: tyre_size, k: 1/K): length = s.rim { source \"geometry\" }\ngroup g { a: one of x, y }");
  REQUIRE_MESSAGE(p.clean(), p.said());
  CHECK(p.text(p.at<UnitDecl>(0).definition.span()) == "6.35029318 kg");
  CHECK(p.name(p.at<CurrencyDecl>(1).name) == "GBP");
  CHECK(p.at<ChoiceDecl>(2).choices.size() == 2);
  CHECK(p.at<UseDecl>(3).path.text == "a/b.rules");
  const auto& formula = p.at<FormulaDecl>(4);
  CHECK(p.tree.units[formula.parameters.at(1).type.unit.id][0].power == -1);
  CHECK(formula.source->text == "geometry");
  CHECK(p.at<GroupDecl>(5).attributes.at(0).type.choices.size() == 2);
}

TEST_CASE("tables") {
  const Parsed p(
      "table t \"doc\" { tube: mm  key: mm range  nut: thread\n 4.75 24..30 \"M10\"\n 6 30..35 ?\n source "
      "\"s\" }");
  REQUIRE_MESSAGE(p.clean(), p.said());
  const auto& t = p.only<TableDecl>();
  CHECK(t.doc->text == "doc");
  CHECK(t.columns.size() == 3);
  CHECK(t.columns[1].type.range_key);
  REQUIRE(t.rows.size() == 2);
  CHECK(std::holds_alternative<RangeValue>(p.tree.values[t.rows[1][1]].form));
  CHECK(t.sources.at(0).text == "s");
}

TEST_CASE("designations") {
  const Parsed p(
      "designation thread \"doc\" { form metric \"M{major: mm}x{pitch: mm}\", \"M{major: mm}\" { pitch = "
      "major / 8 }\n"
      "form unified \"{major: in}-{tpi: count}[ UNF]\" }\ndesignation size \"{w: mm}/{a: percent}\"");
  REQUIRE_MESSAGE(p.clean(), p.said());
  const auto& d = p.only<DesignationDecl>();
  REQUIRE(d.forms.size() == 2);
  CHECK(d.forms[0].patterns.size() == 2);
  const auto& pieces = d.forms[0].patterns[0];
  REQUIRE(pieces.size() == 4);
  CHECK(pieces[0].literal == "M");
  CHECK(p.name(*pieces[1].field) == "major");
  CHECK(pieces[2].literal == "x");
  CHECK(d.forms[0].computed.size() == 1);
  CHECK(d.forms[1].patterns[0].back().optional_literal);
  CHECK(d.forms[1].patterns[0].back().literal == " UNF");
  const auto& size = p.at<DesignationDecl>(1);
  CHECK_FALSE(size.forms.at(0).name);
  CHECK(size.forms.at(0).pattern_texts.at(0).text == "{w: mm}/{a: percent}");
}

TEST_CASE("kinds") {
  const Parsed p(
      "kind wheel \"road wheel\" { with fastener\n face mount: lug.wheel\n face a, b: clamped.base optional\n"
      " offset: length in -100 mm..100 mm \"doc\" measure \"rod\" spread measured 0.5 mm, claimed 3 mm\n"
      " rim: in in 10..20 in  let barrel = rim / 2 }");
  REQUIRE_MESSAGE(p.clean(), p.said());
  const auto& k = p.only<KindDecl>();
  CHECK(k.groups.size() == 1);
  REQUIRE(k.faces.size() == 2);
  CHECK(k.faces[1].names.size() == 2);
  CHECK(k.faces[1].optional);
  CHECK(p.name(k.faces[0].side) == "wheel");
  const auto& offset = k.attributes.at(0);
  CHECK(p.tree.quantities[offset.range->lo].negative());
  CHECK(offset.doc->text == "doc");
  CHECK(offset.measure->text == "rod");
  REQUIRE(offset.spreads.size() == 2);
  CHECK(offset.spreads[1].grade == Grade::claimed);
  CHECK(p.text(k.attributes.at(1).range_span) == "10..20 in");
  CHECK(k.lets.size() == 1);
}

TEST_CASE("interfaces and requirements") {
  const Parsed p(
      "interface lug \"doc\" { one side wheel { holes: count }\n many side layer { with g  hole: length }\n"
      "let gap = a - b\n also n: a = b when c { because \"x \\\"y\\\"\" source \"s\" remedy \"ring {a.b} / "
      "{c + 1} mm\"\n"
      "settles at order hazard brakes } }");
  REQUIRE_MESSAGE(p.clean(), p.said());
  const auto& i = p.only<InterfaceDecl>();
  REQUIRE(i.sides.size() == 2);
  CHECK(i.sides[1].many);
  CHECK(i.sides[1].groups.size() == 1);
  const auto& r = i.requirements.at(0);
  CHECK(r.weight == Weight::also);
  CHECK(r.when);
  CHECK(r.because->text == "x \"y\"");
  REQUIRE(r.remedy_pieces.size() == 5);
  CHECK(r.remedy_pieces[0].literal == "ring ");
  CHECK(Shape(p).of(r.remedy_pieces[1].expr) == "a.b");
  CHECK(Shape(p).of(r.remedy_pieces[3].expr) == "(c + 1)");
  CHECK(r.remedy_pieces[4].literal == " mm");
  CHECK(p.name(*r.settles_at) == "order");
  CHECK(p.name(*r.hazard) == "brakes");
}

TEST_CASE("rules") {
  const Parsed p(
      "rule r \"doc\" { for w: wheel, c: caliper reachable from w through lug where w.place = c.place\n need "
      "n: a }");
  REQUIRE_MESSAGE(p.clean(), p.said());
  const auto& r = p.only<RuleDecl>();
  REQUIRE(r.binders.size() == 2);
  CHECK(r.binders[1].reach_through.size() == 1);
  CHECK(Shape(p).of(r.where) == "(w.place = c.place)");
}

TEST_CASE("spans hold exactly what was written") {
  const Parsed p = part("circle 108 mm +- 0.1 mm per claimed # note\n  size \"M10\" ");
  CHECK(p.text(value_of(p, 0).span) == "108 mm +- 0.1 mm per claimed");
  CHECK(p.text(p.tree.span_of(p.tree.assignments[p.only<PartDecl>().assignments][1])) == "size \"M10\"");
  CHECK(p.text(p.file().comments.at(0)) == "# note");
  const Parsed nested("rule r { need n: some a: k has a.b # note\n }");
  CHECK(nested.text(nested.only<RuleDecl>().requirements.at(0).span) == "need n: some a: k has a.b");
}
