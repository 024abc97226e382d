// Signatures of devices (logbook/device_key.h), checked by OpenSSL.
#pragma once

#include "logbook/trust.h"

namespace tawny::cli {

// ECDSA on P-256 with SHA-256 (FIPS 186-5). False for a key that is no point of the curve, and for digits that
// are no digits.
bool is_good_signature(const SignatureCheck& check);

}  // namespace tawny::cli
