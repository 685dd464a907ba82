#include "evaluate/machine_body.hpp"

namespace mm {

template class Machine<ExactDual>;

}  // namespace mm
