#include "cli/openssl_check.h"

#include <openssl/core_names.h>
#include <openssl/ecdsa.h>
#include <openssl/evp.h>
#include <openssl/params.h>

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tawny::cli {
namespace {

using Bytes = std::vector<unsigned char>;

struct Free {
  void operator()(EVP_PKEY* key) const { EVP_PKEY_free(key); }
  void operator()(EVP_PKEY_CTX* context) const { EVP_PKEY_CTX_free(context); }
  void operator()(EVP_MD_CTX* context) const { EVP_MD_CTX_free(context); }
  void operator()(ECDSA_SIG* signature) const { ECDSA_SIG_free(signature); }
  void operator()(BIGNUM* number) const { BN_free(number); }
  void operator()(unsigned char* bytes) const { OPENSSL_free(bytes); }
};
template <typename T>
using Owned = std::unique_ptr<T, Free>;

std::optional<unsigned> nibble(char digit) {
  if (digit >= '0' && digit <= '9') return static_cast<unsigned>(digit - '0');
  if (digit >= 'a' && digit <= 'f') return static_cast<unsigned>(digit - 'a' + 10);
  return std::nullopt;
}

std::optional<Bytes> bytes_of(std::string_view hex) {
  if (hex.size() % 2 != 0) return std::nullopt;
  Bytes bytes;
  for (std::size_t at = 0; at < hex.size(); at += 2) {
    const std::optional<unsigned> high = nibble(hex[at]), low = nibble(hex[at + 1]);
    if (!high || !low) return std::nullopt;
    bytes.push_back(static_cast<unsigned char>(*high << 4U | *low));
  }
  return bytes;
}

Owned<EVP_PKEY> key_of(Bytes point) {
  char curve[] = "P-256";
  OSSL_PARAM parameters[] = {
      OSSL_PARAM_construct_utf8_string(OSSL_PKEY_PARAM_GROUP_NAME, curve, 0),
      OSSL_PARAM_construct_octet_string(OSSL_PKEY_PARAM_PUB_KEY, point.data(), point.size()),
      OSSL_PARAM_construct_end()};
  const Owned<EVP_PKEY_CTX> context(EVP_PKEY_CTX_new_from_name(nullptr, "EC", nullptr));
  EVP_PKEY* key = nullptr;
  if (!context || EVP_PKEY_fromdata_init(context.get()) != 1) return nullptr;
  if (EVP_PKEY_fromdata(context.get(), &key, EVP_PKEY_PUBLIC_KEY, parameters) != 1) return nullptr;
  return Owned<EVP_PKEY>(key);
}

// OpenSSL takes r and s in DER.
std::optional<Bytes> in_der(const Bytes& r_and_s) {
  const int half = static_cast<int>(r_and_s.size() / 2);
  Owned<BIGNUM> r(BN_bin2bn(r_and_s.data(), half, nullptr));
  Owned<BIGNUM> s(BN_bin2bn(r_and_s.data() + half, half, nullptr));
  const Owned<ECDSA_SIG> signature(ECDSA_SIG_new());
  if (!r || !s || !signature || ECDSA_SIG_set0(signature.get(), r.get(), s.get()) != 1) return std::nullopt;
  static_cast<void>(r.release());
  static_cast<void>(s.release());
  unsigned char* der = nullptr;
  const int size = i2d_ECDSA_SIG(signature.get(), &der);
  const Owned<unsigned char> owned(der);
  if (size <= 0) return std::nullopt;
  return Bytes(der, der + size);
}

}  // namespace

bool is_good_signature(const SignatureCheck& check) {
  std::optional<Bytes> point = bytes_of(check.public_key);
  const std::optional<Bytes> r_and_s = bytes_of(check.signature);
  if (!point || !r_and_s || r_and_s->size() != 64) return false;
  const Owned<EVP_PKEY> key = key_of(*std::move(point));
  const std::optional<Bytes> der = in_der(*r_and_s);
  const Owned<EVP_MD_CTX> context(EVP_MD_CTX_new());
  if (!key || !der || !context) return false;
  if (EVP_DigestVerifyInit(context.get(), nullptr, EVP_sha256(), nullptr, key.get()) != 1) return false;
  return EVP_DigestVerify(context.get(), der->data(), der->size(),
                          reinterpret_cast<const unsigned char*>(check.text.data()), check.text.size()) == 1;
}

}  // namespace tawny::cli
