// SHA-256: the fingerprint of an entry's bytes, and the link of a device's chain.
//
// Source: FIPS PUB 180-4 (Secure Hash Standard), sections 4.1.2, 4.2.2, 5.1.1, 5.3.3 and 6.2.
// It shows damage and change; it is no signature: who can write a line can write a hash that fits it.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

namespace tawny {

std::array<std::uint8_t, 32> sha256(std::string_view bytes);

// The same as 64 lower-case hexadecimal digits.
std::string sha256_hex(std::string_view bytes);

// Exactly 64 digits of 0-9 and a-f.
bool is_sha256_hex(std::string_view text);

}  // namespace tawny
