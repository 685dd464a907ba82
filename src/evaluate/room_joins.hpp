// Rooms joined by `and`, `or` and `not`. Included by the file that works rooms out.
#pragma once
#include <utility>

#include "evaluate/room.hpp"

namespace mm {

template <class Num>
void add(Room<Num>& into, const Num& number) {
  into.number = into.some ? hull(into.number, number) : number;
  into.some = true;
}

template <class Num>
Room<Num> denied(Room<Num> room) {
  if (room.some) room.number = neg(room.number);
  std::swap(room.endless, room.none);
  return room;
}

/// Of both; no `and` undefined is no.
template <class Num>
Room<Num> least(const Room<Num>& a, const Room<Num>& b) {
  Room<Num> out;
  out.none = a.none || b.none;
  out.endless = a.endless && b.endless;
  if (a.some && b.some) add(out, min(a.number, b.number));
  if (a.some && (b.endless || b.undefined)) add(out, a.number);
  if (b.some && (a.endless || a.undefined)) add(out, b.number);
  const auto may_hold = [](const Room<Num>& room) {
    return room.endless || (room.some && !(bounds(room.number).hi < 0));
  };
  out.undefined = (a.undefined && (b.undefined || may_hold(b))) || (b.undefined && may_hold(a));
  out.jumps = a.jumps || b.jumps || a.undefined || b.undefined;
  return out;
}

template <class Num>
Room<Num> greatest(const Room<Num>& a, const Room<Num>& b) {
  return denied(least(denied(a), denied(b)));
}

template <class Num>
Room<Num> endless() {
  Room<Num> out;
  out.endless = true;
  return out;
}

template <class Num>
Room<Num> undefined() {
  Room<Num> out;
  out.undefined = true;
  return out;
}

template <class Num>
Room<Num> anything_at_all() {
  Room<Num> out;
  out.endless = out.none = out.undefined = out.jumps = true;
  return out;
}

}  // namespace mm
