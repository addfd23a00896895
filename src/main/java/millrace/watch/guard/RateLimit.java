// SPDX-License-Identifier: Apache-2.0
package millrace.watch.guard;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;
import millrace.quantity.TimeSpanSeconds;
import millrace.time.TimeSource;

/** Limits the requests of one address: a burst, then a number per second. Thread-safe. */
final class RateLimit {
  private static final int MOST_ADDRESSES = 4096;

  private final double burst;
  private final double perSecond;
  private final TimeSource time;
  private final Map<String, Bucket> buckets =
      new LinkedHashMap<>(64, 0.75f, true) {
        private static final long serialVersionUID = 1;

        @Override
        protected boolean removeEldestEntry(Map.Entry<String, Bucket> eldest) {
          return size() > MOST_ADDRESSES;
        }
      };

  private record Bucket(double left, Duration at) {}

  RateLimit(double burst, double perSecond, TimeSource time) {
    this.burst = burst;
    this.perSecond = perSecond;
    this.time = time;
  }

  /** Counts one request; false if it exceeds the limit. */
  synchronized boolean allows(String address) {
    double left = left(address);
    buckets.put(address, new Bucket(Math.max(0, left - 1), time.elapsed()));
    return left >= 1;
  }

  /** Whether another request would exceed the limit; counts nothing. */
  synchronized boolean isSpent(String address) {
    return left(address) < 1;
  }

  private double left(String address) {
    Bucket bucket = buckets.getOrDefault(address, new Bucket(burst, time.elapsed()));
    double since = TimeSpanSeconds.seconds(time.elapsed().minus(bucket.at()));
    return Math.min(burst, bucket.left() + since * perSecond);
  }
}
