// Values as a part's sheet states them, in every form of spread.
#pragma once
#include "draw.hpp"
#include "scene.hpp"

namespace mm_proof {

Value make_value(Draw& draw, const Scene& scene, const Fragment& fragment, const AttributeDef& def);

}  // namespace mm_proof
