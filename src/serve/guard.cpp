#include "serve/guard.hpp"

#include <openssl/crypto.h>
#include <algorithm>

#include "ringtrue/serve/serve.hpp"

namespace ringtrue::serve {

namespace {

constexpr std::size_t k_many_addresses = 1024;

/// `[::1]:8080` to `::1`, `localhost:8080` to `localhost`; nothing of what is neither.
std::string_view without_port(std::string_view host) {
  const bool is_ipv6 = host.starts_with('[');
  const std::size_t end = is_ipv6 ? host.find(']') : std::min(host.find(':'), host.size());
  if (end == host.npos) return {};
  const std::string_view port = host.substr(is_ipv6 ? end + 1 : end);
  if (!port.empty() && (port.front() != ':' || port.find_first_not_of("0123456789", 1) != port.npos))
    return {};
  return is_ipv6 ? host.substr(1, end - 1) : host.substr(0, end);
}

double seconds(std::chrono::steady_clock::duration time) {
  return std::chrono::duration<double>(time).count();
}

}  // namespace

bool is_own_origin(const Origin& origin, bool is_loopback_only) {
  if (is_loopback_only && !is_loopback(std::string(without_port(origin.host)))) return false;
  if (origin.is_to_read && origin.fetch_mode == "navigate") return true;
  if (!origin.fetch_site.empty() && origin.fetch_site != "same-origin" && origin.fetch_site != "none")
    return false;
  constexpr std::string_view k_scheme = "http://";
  return origin.origin.empty() ||
         (origin.origin.starts_with(k_scheme) && origin.origin.substr(k_scheme.size()) == origin.host);
}

bool is_json(std::string_view content_type) {
  std::string type;
  for (const char c : content_type.substr(0, content_type.find(';')))
    if (c != ' ' && c != '\t') type += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return type == "application/json";
}

bool has_token(std::string_view path, std::string_view token) {
  if (token.empty()) return true;
  if (!path.starts_with('/')) return false;
  const std::string_view given = path.substr(1, path.find('/', 1) - 1);
  return given.size() == token.size() && CRYPTO_memcmp(given.data(), token.data(), token.size()) == 0;
}

bool RateLimit::take(const std::string& address, std::chrono::steady_clock::time_point now) {
  const std::lock_guard lock(mutex_);
  if (buckets_.size() >= k_many_addresses) forget_full_ones(now);
  Bucket& bucket = buckets_.try_emplace(address, Bucket{at_once_, now}).first->second;
  bucket.left = std::min(at_once_, bucket.left + per_second_ * seconds(now - bucket.filled));
  bucket.filled = now;
  if (bucket.left < 1) return false;
  bucket.left -= 1;
  return true;
}

void RateLimit::forget_full_ones(std::chrono::steady_clock::time_point now) {
  std::erase_if(buckets_, [&](const auto& entry) {
    return entry.second.left + per_second_ * seconds(now - entry.second.filled) >= at_once_;
  });
}

}  // namespace ringtrue::serve
