// What one run may take of the machine. Whoever meets a limit is told so, and how to allow more; no report is
// written then, so no verdict hangs on the speed of a machine.
#pragma once
#include <cstddef>
#include <functional>

namespace mm {

/// Calls `run` on a stack that holds every depth that the limits on nesting allow, whatever `ulimit -s` says,
/// and gives its result. Signals reach it alone.
int on_large_stack(const std::function<int()>& run);

/// From now on the run ends with a message and status 4 when it has used so many seconds of processor time or
/// holds more than so many megabytes; 0 megabytes: as limit_memory says.
void limit_time_and_memory(std::size_t seconds, std::size_t megabytes);

/// Changes the megabytes; 0: those for a text of so many bytes. A sanitized program, which takes a multiple,
/// is not limited.
void limit_memory(std::size_t megabytes, std::size_t text_bytes);
/// Called, perhaps more than once, when the text is so large that a check fills hundreds of megabytes.
void on_much_text(void (*tell)());

}  // namespace mm
