#pragma once
#include <memory>
#include <string>
#include <string_view>
#include <unordered_set>
#include <utility>

#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue::load {

/// Texts that stand in no file, each once, for as long as the netlist lives.
class MadeTexts {
 public:
  explicit MadeTexts(NetlistBuilder& builder) : texts_(std::make_shared<std::unordered_set<std::string>>()) {
    builder.keep(texts_);
  }
  std::string_view keep(std::string text) { return *texts_->insert(std::move(text)).first; }

 private:
  std::shared_ptr<std::unordered_set<std::string>> texts_;
};

}  // namespace ringtrue::load
