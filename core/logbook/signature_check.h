// A signature that has to be checked, and what came of those that were.
#pragma once

#include <string>

#include "logbook/entry.h"

namespace tawny {

// A signature that has to be checked with the public key over the bytes of `text`.
struct SignatureCheck {
  std::string hash;        // of the entry that holds it: how its verdict is known
  std::string public_key;  // 130 hexadecimal digits
  std::string text;
  std::string signature;  // 128 hexadecimal digits
};
// Of signatures that were checked, by SignatureCheck::hash: is it good?
using Verdicts = HashMap<bool>;

}  // namespace tawny
