// proof [--worlds N] [--per-verdict N] [--seed N] [--scene N] [--text] [--verbose] [--open] [--smt N]
// [--timeout MS] Random projects against an independent judge: no verdict may be contradicted by a world that
// the spreads allow.
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <cstring>

#include "check.hpp"
#include "make.hpp"
#include "smt.hpp"

namespace {

using namespace mm_proof;

struct Wanted {
  std::size_t worlds = 1'000'000;
  std::uint64_t seed = 1;
  long scene = -1;
  long per_verdict = 250;
  int smt = 0, timeout_ms = 100;
  bool text = false, verbose = false;
  bool open = false;  // show what is left at the precision
};

Wanted read(int count, char** words) {
  Wanted out;
  for (int i = 1; i < count; ++i) {
    const auto number = [&] { return i + 1 < count ? std::atol(words[++i]) : 0L; };
    if (std::strcmp(words[i], "--worlds") == 0) {
      out.worlds = static_cast<std::size_t>(number());
    } else if (std::strcmp(words[i], "--seed") == 0) {
      out.seed = static_cast<std::uint64_t>(number());
    } else if (std::strcmp(words[i], "--scene") == 0) {
      out.scene = number();
    } else if (std::strcmp(words[i], "--per-verdict") == 0) {
      out.per_verdict = number();
    } else if (std::strcmp(words[i], "--smt") == 0) {
      out.smt = static_cast<int>(number());
    } else if (std::strcmp(words[i], "--timeout") == 0) {
      out.timeout_ms = static_cast<int>(number());
    } else if (std::strcmp(words[i], "--text") == 0) {
      out.text = true;
    } else if (std::strcmp(words[i], "--verbose") == 0) {
      out.verbose = true;
    } else if (std::strcmp(words[i], "--open") == 0) {
      out.open = true;
    } else {
      std::fprintf(stderr, "proof: what is %s?\n", words[i]);
      std::exit(4);
    }
  }
  return out;
}

/// Requirements that a solver can read: polynomials, quotients, min, max, if, counts, words, quantifiers.
int second_opinions(const Wanted& wanted) {
  Fragment fragment;
  fragment.transcendental = fragment.tables = fragment.sizes = fragment.adjustables = fragment.reach = false;
  int written = 0;
  for (std::uint64_t number = 0; written < wanted.smt; ++number) {
    fragment.depth = 1 + static_cast<int>(number % 3);
    fragment.rounding = number % 4 == 0;
    fragment.open_faces = number % 2 == 0;
    const std::uint64_t seed = wanted.seed * 1'000'003 + number;
    const auto scene = make_scene(seed, fragment);
    tune(*scene, seed);
    std::string out;
    written += write_smt(*scene, number, wanted.smt - written, wanted.timeout_ms, out);
    std::printf("%s", out.c_str());
  }
  return 0;
}

}  // namespace

int main(int count, char** words) {
  std::setvbuf(stdout, nullptr, _IOLBF, 0);
  const Wanted wanted = read(count, words);
  Fragment fragment;
  Counts total;
  if (wanted.smt > 0) return second_opinions(wanted);
  for (std::uint64_t scene_number = wanted.scene >= 0 ? static_cast<std::uint64_t>(wanted.scene) : 0;;
       ++scene_number) {
    const std::uint64_t seed = wanted.seed * 1'000'003 + scene_number;
    Fragment here = fragment;
    here.depth = 1 + static_cast<int>(scene_number % 4);
    here.transcendental = scene_number % 3 != 0;
    here.open_faces = scene_number % 2 == 0;
    here.adjustables = scene_number % 5 == 0;
    const auto scene = make_scene(seed, here);
    tune(*scene, seed);
    if (wanted.text) {
      std::printf("%s", text_of(*scene).c_str());
      return 0;
    }
    const auto began = std::chrono::steady_clock::now();
    Counts counts = check(*scene, seed, static_cast<int>(wanted.per_verdict), 4000, scene_number % 4 != 3);
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
    if (wanted.verbose) std::printf("scene %lu: %zu worlds, %.2f s\n", scene_number, counts.worlds, seconds);
    for (const std::string& text : counts.contradictions) {
      std::printf("CONTRADICTION scene %lu (--seed %lu --scene %lu)\n%s\n", scene_number, wanted.seed,
                  scene_number, text.c_str());
    }
    for (const std::string& text : counts.at_precision)
      if (wanted.open)
        std::printf("AT THE PRECISION (--seed %lu --scene %lu): %s\n", wanted.seed, scene_number,
                    text.c_str());
    total.add(counts);
    if (wanted.scene >= 0 || total.worlds >= wanted.worlds || total.contradictions.size() > 20) break;
  }
  std::printf("scenes %zu requirements %zu worlds %zu undecided %zu left-out %zu\n", total.scenes,
              total.requirements, total.worlds, total.undecided, total.unmatched);
  for (const auto& [word, number] : total.verdicts) std::printf("verdict %s %zu\n", word.c_str(), number);
  std::printf("open certified %zu undefined %zu at a stated precision %zu without %zu neither %zu\n",
              total.certified, total.undefined, total.stated, total.unstated, total.neither);
  std::printf("worlds held against a stated precision %zu\n", total.stated_worlds);
  std::printf("certificates rechecked %zu open %zu\n", total.rechecked, total.not_rechecked);
  std::printf("worlds between two fractions tried %zu\n", total.at_roots);
  std::printf("promises of limits and settings tried %zu\n", total.promises);
  std::printf("contradictions %zu\n", total.contradictions.size());
  return total.contradictions.empty() ? 0 : 1;
}
