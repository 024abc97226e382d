// A calculator's inputs as they stand: what was typed, what the app knows, what stands in, what is missing. No
// calculator is known here by name: the table of reckonings says all.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "ui/screens/reckon_known.h"

namespace tawny::ui {

// No more decimals than the value has: "5.5", but "-5".
int decimals_needed(double value, int most);

class ReckonSheet {
 public:
  ReckonSheet(const Reckoning& reckoning, ReckonTyped& typed, std::vector<KnownInput> known,
              const Protocol& protocol)
      : reckoning_(reckoning), typed_(typed), known_(std::move(known)), protocol_(protocol) {}

  const Reckoning& reckoning() const { return reckoning_; }
  ReckonTyped& typed() const { return typed_; }

  // What is given: by hand, else as the app knows it.
  std::optional<ReckonInputValue> value(const ReckonInput& input) const;
  std::optional<double> number(const ReckonInput& input) const;
  std::string text(const ReckonInput& input) const;
  // Where the given value is from; null when it was typed or there is none.
  const KnownInput* known(const ReckonInput& input) const;
  // The number that counts when none is given.
  std::optional<double> stands_in(const ReckonInput& input) const;
  // Of a choice: the given one, else the one that stands in.
  std::string chosen(const ReckonInput& input) const;

  // Inputs of which one is given: all of the group, and the one that is asked for now; null: none is.
  std::vector<const ReckonInput*> alternatives(std::string_view group) const;
  const ReckonInput* alternative(std::string_view group) const;
  // Whether the input opens its group, or has none.
  bool leads(const ReckonInput& input) const;

  // It can be left as it is.
  bool may_be_left(const ReckonInput& input) const;
  // What must be given before there is an answer, in the order of the table.
  std::vector<const ReckonInput*> missing() const;

  std::vector<std::pair<std::string, ReckonInputValue>> given() const;

 private:
  const Reckoning& reckoning_;
  ReckonTyped& typed_;
  std::vector<KnownInput> known_;
  const Protocol& protocol_;
};

}  // namespace tawny::ui
