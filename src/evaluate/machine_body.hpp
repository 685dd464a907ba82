// All bodies of Machine, for the files that instantiate it.
#pragma once
#include "evaluate/machine_arithmetic.hpp"
#include "evaluate/machine_frames.hpp"
#include "evaluate/machine_impl.hpp"
#include "evaluate/machine_loads.hpp"
#include "evaluate/machine_quantifiers.hpp"
#include "evaluate/machine_ranges.hpp"
#include "evaluate/machine_reads.hpp"
#include "evaluate/machine_rows.hpp"
#include "evaluate/machine_tables.hpp"
#include "evaluate/machine_values.hpp"
