#include "serve/watch.hpp"

namespace ringtrue::serve {

namespace {

using namespace std::chrono_literals;

/// How often a job is looked at that nobody told of: other processes may add to it.
constexpr auto k_look_every = 250ms;
/// Between two states: people can't read faster, and each goes to every page.
constexpr auto k_least_between = 200ms;

}  // namespace

Watch::Watch(LiveJob live, Job job, WriteState write_state)
    : live_(std::move(live)), job_(std::move(job)), write_state_(std::move(write_state)) {
  look();
  thread_ = std::thread([this] { follow(); });
}

Watch::~Watch() {
  end();
  thread_.join();
}

std::shared_ptr<const Published> Watch::published() const {
  const std::lock_guard lock(mutex_);
  return published_;
}

std::shared_ptr<const Published> Watch::newer_than(std::uint64_t version,
                                                   std::chrono::milliseconds at_most) const {
  std::unique_lock lock(mutex_);
  changed_.wait_for(lock, at_most, [&] { return has_ended_ || published_->version != version; });
  return published_;
}

void Watch::wake() {
  {
    const std::lock_guard lock(mutex_);
    is_woken_ = true;
  }
  changed_.notify_all();
}

void Watch::end() {
  {
    const std::lock_guard lock(mutex_);
    has_ended_ = true;
  }
  changed_.notify_all();
}

bool Watch::has_ended() const {
  const std::lock_guard lock(mutex_);
  return has_ended_;
}

void Watch::follow() {
  for (;;) {
    {
      std::unique_lock lock(mutex_);
      changed_.wait_for(lock, k_look_every, [&] { return has_ended_ || is_woken_; });
      if (has_ended_) return;
      is_woken_ = false;
    }
    look();
    std::unique_lock lock(mutex_);
    changed_.wait_for(lock, k_least_between, [&] { return has_ended_; });
  }
}

/// Publishes a state if there is anything new.
void Watch::look() {
  const std::lock_guard lock(live_mutex_);
  const auto read = live_.catch_up();
  std::string trouble = read ? "" : to_text(read.error().front());
  if ((!read || !*read) && !is_newer_ && trouble == trouble_) return;
  is_newer_ = false;
  trouble_ = std::move(trouble);

  auto next = std::make_shared<Published>();
  const auto before = published();
  next->version = before ? before->version + 1 : 1;
  next->state = write_state_({live_, job_, next->version, trouble_});
  next->drawing = live_.drawing();
  next->meters = live_.meters();
  {
    const std::lock_guard published_lock(mutex_);
    published_ = std::move(next);
  }
  changed_.notify_all();
}

}  // namespace ringtrue::serve
