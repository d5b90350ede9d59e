#include "load/csv_ahead.hpp"

#include <exception>
#include <utility>

namespace ringtrue::load {

CsvReader::Found CsvAhead::next() {
  for (;;) {
    if (at_ < now_.lines.size()) {
      ++at_;
      return CsvReader::Found::record;
    }
    if (now_.mistake && !std::exchange(is_mistake_told_, true)) return CsvReader::Found::mistake;
    if (now_.is_last) return CsvReader::Found::end;
    take_batch();
  }
}

void CsvAhead::take_batch() {
  std::unique_lock lock(guard_);
  while (ready_.empty()) {
    if (is_splitting_)
      changed_.wait(lock);
    else
      split_next(lock);
  }
  now_ = std::move(ready_.front());
  ready_.pop_front();
  at_ = 0, is_mistake_told_ = false;
  changed_.notify_all();
}

void CsvAhead::help() {
  constexpr std::size_t k_most_ahead = 16;
  std::unique_lock lock(guard_);
  while (!is_over_) {
    if (is_splitting_ || ready_.size() >= k_most_ahead)
      changed_.wait(lock);
    else
      split_next(lock);
  }
}

void CsvAhead::stop() {
  const std::lock_guard lock(guard_);
  is_over_ = true;
  changed_.notify_all();
}

void CsvAhead::split_next(std::unique_lock<std::mutex>& lock) {
  is_splitting_ = true;
  lock.unlock();
  Batch batch;
  std::exception_ptr thrown;
  try {
    batch = split();
  } catch (...) {
    thrown = std::current_exception();
    batch.is_last = true;  // or the others would wait for ever
  }
  lock.lock();
  is_splitting_ = false;
  is_over_ = is_over_ || batch.is_last;
  ready_.push_back(std::move(batch));
  changed_.notify_all();
  if (thrown) std::rethrow_exception(thrown);
}

CsvAhead::Batch CsvAhead::split() {
  constexpr std::size_t k_records = 512;
  Batch batch;
  batch.cells.reserve(k_records * width_);
  batch.lines.reserve(k_records);
  while (batch.lines.size() < k_records) {
    const CsvReader::Found found = reader_.next();
    if (found == CsvReader::Found::record) {
      const std::span<const std::string_view> cells = reader_.cells();
      batch.cells.insert(batch.cells.end(), cells.begin(), cells.end());
      batch.lines.push_back(reader_.line());
      continue;
    }
    batch.is_last = found == CsvReader::Found::end;
    if (found == CsvReader::Found::mistake) batch.mistake = reader_.mistake();
    break;
  }
  return batch;
}

}  // namespace ringtrue::load
