// Which messages are held back when a statement of the text could not be read: what they miss may be in it.
#include <algorithm>
#include <array>

#include "messages/message.hpp"

namespace mm {

namespace {

constexpr std::array follow_codes{Code::unknown_name,           Code::unknown_unit,
                                  Code::unknown_type,           Code::unknown_choice,
                                  Code::word_unknown,           Code::field_unknown,
                                  Code::attribute_unknown,      Code::column_unknown,
                                  Code::too_few_sides,          Code::not_fitted,
                                  Code::say_which_place,        Code::join_no_face,
                                  Code::join_which_face,        Code::join_side_missing,
                                  Code::join_interfaces_differ, Code::designation_unreadable,
                                  Code::price_currency,         Code::mate_of_many,
                                  Code::argument_count,         Code::wrong_value,
                                  Code::join_other_side};

}  // namespace

bool may_follow_from_unread_text(Code code) {
  return std::find(follow_codes.begin(), follow_codes.end(), code) != follow_codes.end();
}

void Messages::take(const Messages& other, bool text_is_missing) {
  for (const Message& message : other.list_)
    if (!text_is_missing || !may_follow_from_unread_text(message.code)) hold(message);
  not_held_ += other.not_held_;
  error_not_held_ = error_not_held_ || (other.error_not_held_ && !text_is_missing);
}

}  // namespace mm
