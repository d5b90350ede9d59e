#pragma once
#include <condition_variable>
#include <deque>
#include <mutex>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "load/csv.hpp"

namespace ringtrue::load {

/// The records of a CSV text for one thread, while another that has nothing else to do splits the next ones.
/// Without such help the thread that takes them splits them too. The records are the same, in the same order.
class CsvAhead {
 public:
  /// The reader stands behind the header and knows how many cells a record has. It outlives this.
  CsvAhead(CsvReader& reader, std::size_t cells) : reader_(reader), width_(cells) {}

  // These are as those of `CsvReader`, for the thread that takes the records.
  [[nodiscard]] CsvReader::Found next();
  [[nodiscard]] std::span<const std::string_view> cells() const {
    return std::span(now_.cells).subspan((at_ - 1) * width_, width_);
  }
  [[nodiscard]] std::uint32_t line() const { return now_.lines[at_ - 1]; }
  [[nodiscard]] const Error& mistake() const { return *now_.mistake; }

  /// Splits ahead until the text ends or nobody takes records any more.
  void help();
  /// While it lives somebody takes records, or else the help would wait for ever.
  class Taking {
   public:
    explicit Taking(CsvAhead& records) : records_(records) {}
    ~Taking() { records_.stop(); }
    Taking(const Taking&) = delete;
    Taking& operator=(const Taking&) = delete;

   private:
    CsvAhead& records_;
  };

 private:
  /// Some records, then perhaps a mistake.
  struct Batch {
    std::vector<std::string_view> cells;  ///< `width_` of each record
    std::vector<std::uint32_t> lines;
    std::optional<Error> mistake;
    bool is_last = false;
  };
  void stop();
  [[nodiscard]] Batch split();
  void split_next(std::unique_lock<std::mutex>& lock);
  void take_batch();

  CsvReader& reader_;  ///< of the thread that splits
  std::size_t width_;
  std::mutex guard_;
  std::condition_variable changed_;
  std::deque<Batch> ready_;
  bool is_splitting_ = false;  ///< some thread
  bool is_over_ = false;       ///< nothing more to split

  Batch now_;
  std::size_t at_ = 0;  ///< records of `now_` that were taken
  bool is_mistake_told_ = false;
};

}  // namespace ringtrue::load
