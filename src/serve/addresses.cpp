#include "serve/addresses.hpp"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>

#include <array>
#include <memory>

#include "ringtrue/serve/serve.hpp"

namespace ringtrue {

namespace serve {

std::vector<std::string> reached_by(const std::string& host) {
  if (host != "0.0.0.0" && host != "::") return {host};
  std::vector<std::string> all;
  ifaddrs* first = nullptr;
  if (getifaddrs(&first) != 0) return {host};
  const std::unique_ptr<ifaddrs, void (*)(ifaddrs*)> owner(first, freeifaddrs);
  for (const ifaddrs* one = first; one != nullptr; one = one->ifa_next) {
    const bool is_up = (one->ifa_flags & IFF_UP) != 0 && (one->ifa_flags & IFF_LOOPBACK) == 0;
    if (!is_up || one->ifa_addr == nullptr || one->ifa_addr->sa_family != AF_INET) continue;
    const auto* address = reinterpret_cast<const sockaddr_in*>(one->ifa_addr);
    std::array<char, INET_ADDRSTRLEN> text{};
    if (inet_ntop(AF_INET, &address->sin_addr, text.data(), text.size()) != nullptr)
      all.emplace_back(text.data());
  }
  if (all.empty()) all.emplace_back("127.0.0.1");
  return all;
}

}  // namespace serve

bool is_loopback(const std::string& host) {
  if (host == "localhost") return true;
  if (host.find('\0') != host.npos) return false;  // inet_pton would see what stands before it
  in_addr v4{};
  if (inet_pton(AF_INET, host.c_str(), &v4) == 1) return (ntohl(v4.s_addr) >> 24) == 127;
  in6_addr v6{};
  return inet_pton(AF_INET6, host.c_str(), &v6) == 1 && IN6_IS_ADDR_LOOPBACK(&v6);
}

}  // namespace ringtrue
