// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.lang.ref.SoftReference;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Keeps the latest of what depends on the times of readings alone: where one run is assessed again
 * and again, with other statements of its instruments, it costs nearly all of the time and stays
 * the same. The memory is given back where it is short. Thread-safe.
 *
 * @param <K> all that the result depends on, compared by value
 * @param <V> the result, immutable
 */
final class RecentByTimes<K, V> {
  /** The most numbers that are kept: 64 MB. */
  private static final long MOST = 8_000_000;

  /** A result with a part of them. */
  private record Kept<V>(SoftReference<V> result, long numbers) {}

  private final Map<K, Kept<V>> kept = new LinkedHashMap<>();
  private long numbers;

  /**
   * What was found before for the key, else what is found now.
   *
   * @param key all that the result depends on
   * @param size how many numbers the result holds
   * @param made finds it
   */
  V of(K key, long size, Supplier<V> made) {
    Optional<V> before = before(key);
    if (before.isPresent()) {
      return before.get();
    }
    V found = made.get();
    keep(key, new Kept<>(new SoftReference<>(found), size));
    return found;
  }

  private synchronized Optional<V> before(K key) {
    return Optional.ofNullable(kept.get(key)).map(k -> k.result().get());
  }

  private synchronized void keep(K key, Kept<V> result) {
    if (result.numbers() > MOST) {
      return;
    }
    remove(key);
    while (numbers + result.numbers() > MOST) {
      remove(kept.keySet().iterator().next());
    }
    kept.put(key, result);
    numbers += result.numbers();
  }

  private void remove(K key) {
    Kept<V> old = kept.remove(key);
    numbers -= old == null ? 0 : old.numbers();
  }
}
