#include "evaluate/machine_body.hpp"

namespace mm {

template class Machine<Dual>;

}  // namespace mm
