// A device's key: its id is made of it, so nobody else can write under that id and be believed.
//
// The key is ECDSA on curve P-256 with SHA-256 (FIPS 186-5; SEC 1 section 2.3.3 for the public key's bytes: 04,
// x, y). Core neither makes keys nor checks signatures: the browser does by its own cryptography, the shell
// command by OpenSSL. What is signed is the hash of an entry, which names farm, device and number and, by the
// chain, every entry of the device before it.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "base/problem.h"
#include "logbook/entry.h"

namespace tawny {

inline constexpr std::size_t kPublicKeyDigits = 130;
inline constexpr std::size_t kSignatureDigits = 128;  // r and s, 32 bytes each

// "k-" and the first 32 hexadecimal digits of SHA-256 of the public key's 65 bytes. Nothing for a text that is
// not 130 lower-case digits beginning with 04.
std::optional<std::string> device_id_of_key(std::string_view public_key);

// Has it that form? Ids of devices without a key have another.
bool is_keyed_id(std::string_view device);

// What a device signs to stand for everything up to the entry of this hash.
std::string text_to_sign(std::string_view hash);

// Values of the entries; whoever calls has checked the digits, others refuse them on reading.
Draft device_key_draft(std::string_view public_key);
Draft chain_signed_draft(std::string_view signature);

// The device id as six words to be read aloud: 66 of its 128 bits, in syllables that people say alike in every
// language of the app. Nothing for an id without a key. The list of words never changes.
std::optional<std::array<std::string, 6>> fingerprint_words(std::string_view device);

}  // namespace tawny
