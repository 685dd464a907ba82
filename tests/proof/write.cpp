// The project as text, brackets only where the grammar needs them.
#include "scene.hpp"

namespace mm_proof {

namespace {

template <class T>
const T& item(const std::vector<T>& list, int i) {
  return list[static_cast<std::size_t>(i)];
}

// how tightly a form binds
enum Level { loose, either, both, denial, comparing, sum, product, sign, power, primary };

class Printer {
 public:
  explicit Printer(const Scene& scene) : scene_(scene) {}

  std::string at(const Node* node, Level wanted) const {
    const Level level = level_of(*node);
    std::string text = plain(*node);
    return level < wanted ? "(" + text + ")" : text;
  }

 private:
  static Level level_of(const Node& node) {
    switch (node.op) {
      case Op::any_of:
        return either;
      case Op::all_of:
        return both;
      case Op::negate:
        return denial;
      case Op::lt:
      case Op::le:
      case Op::gt:
      case Op::ge:
      case Op::eq:
      case Op::ne:
      case Op::within:
      case Op::in_range:
      case Op::in_table:
      case Op::size_form:
      case Op::same_place:
        return comparing;
      case Op::add:
      case Op::sub:
        return sum;
      case Op::mul:
      case Op::div:
        return product;
      case Op::neg:
        return sign;
      case Op::pow:
        return power;
      case Op::literal:
        return node.value < 0 || node.value.get_den() != 1 ? sum : primary;
      case Op::choose:
      case Op::some:
      case Op::every:
      case Op::count:
      case Op::sum:
      case Op::least:
      case Op::greatest:
      case Op::some_z:
      case Op::every_z:
        return loose;
      default:
        return primary;
    }
  }

  static const char* sign_of(Op op) {
    switch (op) {
      case Op::add:
        return " + ";
      case Op::sub:
        return " - ";
      case Op::mul:
        return " * ";
      case Op::div:
        return " / ";
      case Op::pow:
        return " ^ ";
      case Op::lt:
        return " < ";
      case Op::le:
        return " <= ";
      case Op::gt:
        return " > ";
      case Op::ge:
        return " >= ";
      case Op::ne:
        return " != ";
      default:
        return " = ";
    }
  }

  static const char* function_of(Op op) {
    static const char* const names[] = {"abs",  "min",  "max", "sqrt", "sin",   "cos",  "tan",  "asin",
                                        "acos", "atan", "exp", "ln",   "floor", "ceil", "round"};
    return names[static_cast<int>(op) - static_cast<int>(Op::abs)];
  }

  static std::string unit(const Dim& dim) {
    return dim == Dim{1, 0} ? " mm" : dim == Dim{2, 0} ? " mm^2" : dim == Dim{0, 1} ? " deg" : "";
  }

  std::string name(int var) const { return item(scene_.var_names, var); }

  std::string binder(const Node& node) const {
    if (node.many_var >= 0) return name(node.many_var);
    std::string text = name(node.var) + ": " + (node.kind < 0 ? "part" : item(scene_.kinds, node.kind).name);
    if (node.from != nullptr) {
      text += " reachable from " + at(node.from, primary) + " through ";
      for (std::size_t i = 0; i < node.through.size(); ++i) {
        text += (i > 0 ? ", " : "") + item(scene_.interfaces, node.through[i]).name;
      }
    }
    return text;
  }

  std::string list(const Node& node) const {
    std::string text;
    for (const Node* kid : node.kids) text += (text.empty() ? "" : ", ") + at(kid, either);
    return text;
  }

  std::string quantifier(const Node& node) const {
    const std::string where = node.kids[0] != nullptr ? " where " + at(node.kids[0], either) : "";
    const std::string body = node.kids[1] != nullptr ? at(node.kids[1], primary) : "";
    switch (node.op) {
      case Op::count:
        return "count of " + binder(node) + where;
      case Op::sum:
      case Op::least:
      case Op::greatest: {
        const std::string head = node.op == Op::sum     ? "sum of "
                                 : node.op == Op::least ? "min of "
                                                        : "max of ";
        return head + body + (node.many_var >= 0 ? "" : " for " + binder(node) + where);
      }
      case Op::some:
      case Op::every:
        return (node.op == Op::some ? "some " : "every ") + binder(node) + where + " has " +
               at(node.kids[1], either);
      default:
        return (node.op == Op::some_z ? "some " : "every ") + name(node.var) + " in " +
               at(node.kids[2], sum) + worked_out(are_backwards(*node.kids[2], *node.kids[3])) + ".." +
               at(node.kids[3], sum) + where + " has " + at(node.kids[1], either);
    }
  }

  /// Ends written out the wrong way round, and tolerances below nothing, are errors; worked out they are
  /// none.
  static std::string worked_out(bool wanted) { return wanted ? " * 1" : ""; }
  static bool are_backwards(const Node& lo, const Node& hi) {
    return lo.op == Op::literal && hi.op == Op::literal && lo.value > hi.value;
  }
  static bool below_nothing(const Node& node) { return node.op == Op::literal && node.value < 0; }

  std::string lookup(const Node& node) const {
    const Table& table = item(scene_.tables, node.index);
    std::string text = table.name + "[";
    for (std::size_t i = 0; i < node.kids.size(); ++i) {
      text += (i > 0 ? ", " : "") + item(table.columns, node.columns[i]).name + sign_of(node.relations[i]) +
              at(node.kids[i], sum);
    }
    return text + "]." + item(table.columns, node.column).name;
  }

  std::string plain(const Node& node) const {
    const auto kid = [&](std::size_t i, Level wanted) { return at(node.kids[i], wanted); };
    const auto binary = [&](Level left, Level right) {
      return kid(0, left) + sign_of(node.op) + kid(1, right);
    };
    switch (node.op) {
      case Op::literal:
        return decimal(node.value) + unit(node.dim);
      case Op::yes_no:
        return node.value != 0 ? "yes" : "no";
      case Op::word:
        return node.text;
      case Op::size_text:
        return "\"" + node.text + "\"";
      case Op::pi:
        return "pi";
      case Op::entity:
      case Op::parameter:
        return name(node.var);
      case Op::attribute:
      case Op::face:
      case Op::kind_let: {
        const std::string owner = kid(0, primary);
        const bool turn = node.kids[0]->op == Op::mate || node.kids[0]->op == Op::part_of;
        return owner.empty() ? node.text : (turn ? "(" + owner + ")" : owner) + "." + node.text;
      }
      case Op::size_field: {
        static const char* const fields[] = {"major", "pitch", "tpi"};
        return kid(0, primary) + "." + fields[node.index];
      }
      case Op::size_form:
        return kid(0, primary) + ".form = " + (node.index == 0 ? "metric" : "inch");
      case Op::mate:
        return "mate of " + kid(0, primary);
      case Op::part_of:
        return "part_of " + kid(0, primary);
      case Op::same_place:
        return kid(0, primary) + ".place = " + kid(1, primary) + ".place";
      case Op::let_use:
        return node.text;
      case Op::call:
        return item(scene_.formulas, node.index).name + "(" + list(node) + ")";
      case Op::neg:
        return "-" + kid(0, power);
      case Op::add:
      case Op::sub:
        return binary(sum, product);
      case Op::mul:
      case Op::div:
        return binary(product, sign);
      case Op::pow:
        return binary(primary, primary);
      case Op::lt:
      case Op::le:
      case Op::gt:
      case Op::ge:
      case Op::eq:
      case Op::ne:
        return binary(sum, sum);
      case Op::within:
        return kid(0, sum) + " within " + kid(1, sum) + worked_out(below_nothing(*node.kids[1])) + " of " +
               kid(2, sum);
      case Op::in_range: {
        // a number before "in" would be so many inches
        const std::string left = kid(0, sum);
        const bool bare = left.back() >= '0' && left.back() <= '9';
        return (bare ? "(" + left + ")" : left) + " in " + kid(1, sum) +
               worked_out(are_backwards(*node.kids[1], *node.kids[2])) + ".." + kid(2, sum);
      }
      case Op::all_of:
        return kid(0, both) + " and " + kid(1, denial);
      case Op::any_of:
        return kid(0, either) + " or " + kid(1, both);
      case Op::negate:
        return "not " + kid(0, denial);
      case Op::choose:
        return "if " + kid(0, either) + " then " + kid(1, either) + " else " + kid(2, either);
      case Op::lookup:
        return lookup(node);
      case Op::in_table:
        return "(" + list(node) + ") in " + item(scene_.tables, node.index).name;
      case Op::some:
      case Op::every:
      case Op::count:
      case Op::sum:
      case Op::least:
      case Op::greatest:
      case Op::some_z:
      case Op::every_z:
        return quantifier(node);
      default:
        return std::string(function_of(node.op)) + "(" + list(node) + ")";
    }
  }

  const Scene& scene_;
};

}  // namespace

std::string expression_text(const Scene& scene, const Node& node) { return Printer(scene).at(&node, loose); }

}  // namespace mm_proof
