// The same requirement as SMT-LIB 2, for a second opinion by a solver.
#pragma once
#include "engine.hpp"

namespace mm_proof {

/// Writes each requirement of the scene with its verdict as comment and two or three questions, each after an
/// (echo): is there a world where it does not hold, one where it does not fail, one where it applies? A world
/// where it is undefined answers both of the first. At most `most` requirements; gives how many were written.
int write_smt(const Scene& scene, std::uint64_t number, int most, int timeout_ms, std::string& out);

}  // namespace mm_proof
