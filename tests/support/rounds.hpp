#pragma once
// How often a random test repeats. Sanitizers make a step twenty times as long and ask whether it is done
// cleanly, not whether it is right: a sixth of the rounds walks the same ways.
namespace benchfeed::test {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
inline constexpr bool sanitized = true;
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer)
inline constexpr bool sanitized = true;
#else
inline constexpr bool sanitized = false;
#endif
#else
inline constexpr bool sanitized = false;
#endif

[[nodiscard]] constexpr unsigned rounds(unsigned all) {
    return sanitized ? (all + 5) / 6 : all;
}

}  // namespace benchfeed::test
