// Comparisons of one claim that are not independent: those of one form of number against limits, as `x >= 5`
// and `2 x < 10`, and those that are the same truth. Their limits cut the form's line in points and open
// stretches; in each of them every comparison has one answer.
#pragma once
#include <functional>

#include "evaluate/algebra.hpp"
#include "evaluate/skeleton.hpp"

namespace mm {

class Arrangement {
 public:
  explicit Arrangement(Bench& bench) : bench_(&bench), algebra_(bench) {}

  /// Over the box as it stands, and every part of it.
  void take(const Claim& claim, const std::vector<Leaf>& leaves, bool twice);
  /// As it was taken: looks for answers of two leaves that exclude each other; whether there are some.
  bool pair_up(const std::vector<Leaf>& leaves);
  void forget() { binds_ = false; }
  /// Some answers hang together, or are asked for twice, as `take` was told.
  bool binds() const { return binds_; }

  /// Every way in which the leaves' answers go together, one after another, as far as they are counted up to
  /// `most_ways`; the answers of other leaves stand as they are. `each` gets the answers by leaf, and says
  /// whether to go on.
  using Each = std::function<bool(const std::vector<Bits>&)>;
  void walk(const std::vector<Leaf>& leaves, const Each& each);

 private:
  static constexpr std::size_t most_ways = 512;

  struct On {
    std::size_t leaf = 0;
    OpCode code = OpCode::le;  // of line `code` stop
    bool turned = false;       // of stop `code` line
    Rational at;
    std::size_t stop = 0;
  };
  /// Stretches by number: below the first stop, at it, above it, and so on. Without a stop it is a truth,
  /// with the stretches no and yes.
  struct Line {
    std::vector<Rational> stops;  // ascending
    std::vector<On> leaves;
    std::size_t stretches() const { return stops.empty() ? 2 : 2 * stops.size() + 1; }
  };

  /// A divisor of a comparison, as a multiple of where on a line something is; its sign is known in each
  /// stretch.
  struct Divisor {
    std::uint32_t atom = 0;
    std::size_t line = 0;
    bool rises = false;  // with the line
    Rational zero;       // on the line
  };

  /// Where a form comes to nothing on the line that it lies on.
  struct Zero {
    std::uint32_t line = 0;  // by form
    bool rises = false;      // with the line
    Rational at;
  };
  /// Of a form that is not constant.
  Zero zero_of(const Polynomial& form);

  /// That a form is nothing or more, or strictly more.
  struct AtLeast {
    Polynomial form;
    bool strictly = false;
  };
  /// Answers of two leaves that do not go together.
  struct Pair {
    std::size_t leaf = 0, other = 0;
    Bits answer = 0, its_answer = 0;
  };

  std::vector<AtLeast> told_by(std::size_t leaf, Bits answer) const;
  bool exclude(const AtLeast& a, const AtLeast& b);
  bool go_together(const std::vector<Bits>& bits) const;
  void add(std::size_t leaf, const Leaf& of);
  void find_divisors();
  static int sign_in(const Line& line, const Divisor& divisor, std::size_t stretch);
  struct Turn;
  bool agree(const std::vector<Turn>& turns, const std::vector<Bits>& at_first, std::vector<Bits>& bits);
  static Bits answer(const Line& line, const On& on, std::size_t stretch);
  static bool possible(const Line& line, std::size_t stretch, const std::vector<Bits>& known);
  Bits by_range(std::size_t leaf);
  Bits by_range(OpCode code, const Polynomial& form);
  std::vector<Bits> known(const std::vector<Leaf>& leaves);

  Bench* bench_;
  Algebra algebra_;
  bool binds_ = false;
  std::vector<Line> lines_;
  std::map<std::uint32_t, std::size_t> line_of_;  // by form
  struct Slack {
    OpCode code;
    Polynomial form;
    std::vector<Polynomial> otherwise;  // the same number in other forms
    std::optional<Algebra::Cleared> cleared{};
  };
  std::vector<std::optional<Slack>> slacks_;  // by leaf: of a comparison, upper less lower
  std::vector<Pair> pairs_;
  std::vector<Divisor> divisors_;
  std::vector<std::size_t> divided_;  // the leaves that have one
};

}  // namespace mm
