#pragma once
#include <memory>
#include <string>
#include <string_view>
#include <unordered_set>
#include <utility>

namespace ringtrue::load {

/// Texts that stand in no file, each once, for as long as what is built lives.
class MadeTexts {
 public:
  template <class Builder>
  explicit MadeTexts(Builder& builder) : texts_(std::make_shared<std::unordered_set<std::string>>()) {
    builder.keep(texts_);
  }
  std::string_view keep(std::string text) { return *texts_->insert(std::move(text)).first; }

 private:
  std::shared_ptr<std::unordered_set<std::string>> texts_;
};

}  // namespace ringtrue::load
