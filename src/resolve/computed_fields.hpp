// What the computed fields of sizes need from each other, while they are compiled.
#pragma once
#include <map>
#include <set>
#include <vector>

#include "model/model.hpp"

namespace mm {

/// Asked by the compiler of each field that is read, and each size that is compared as a whole. A field that
/// another declaration still has to give is waited for, so that the order of declarations does not matter.
class FieldNeeds {
 public:
  /// One computed field of one form.
  using Index = std::uint32_t;

  /// `may_be_given`: some text of the form gives it.
  Index add(DesignationId designation, std::uint32_t form, Symbol name, bool may_be_given);
  /// What is noted from here on is of this one.
  void start(Index field);
  /// False: not before it is compiled. of_itself: of the same size, where a field that is computed further
  /// down, and may be given instead, is read only if it is.
  bool reads(DesignationId designation, Symbol name, bool of_itself);
  void compares(DesignationId designation);
  /// None of the fields that it needs is missing.
  bool is_complete() const { return awaited_.empty(); }
  /// One of those it waits for.
  Index awaited() const { return *awaited_.begin(); }
  /// How many fields of sizes have to be worked out one after another for it.
  std::uint32_t depth() const { return depth_; }
  /// The present one is compiled.
  void finish();
  bool is_finished(Index field) const { return fields_[field].done; }

 private:
  struct Field {
    DesignationId designation;
    std::uint32_t form;
    bool may_be_given;
    std::uint32_t depth = 0;
    bool done = false;
  };
  void need(Index other);

  std::vector<Field> fields_;
  std::map<std::pair<DesignationId, Symbol>, std::vector<Index>> by_name_;
  std::map<DesignationId, std::vector<Index>> by_designation_;
  Index present_ = 0;
  std::set<Index> awaited_;
  std::uint32_t depth_ = 1;
  std::map<std::pair<DesignationId, std::uint32_t>, std::uint32_t> depth_of_form_;
};

}  // namespace mm
