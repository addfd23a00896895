// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Instant;

/** Instants as the logbook counts them: nanoseconds since 1970-01-01T00:00:00Z. */
final class TimestampNanos {
  private static final long NANOS_A_SECOND = 1_000_000_000L;

  /** The first instant that can be stored. */
  static final Instant FIRST = Instant.parse("1678-01-01T00:00:00Z");

  /** The first instant that can no longer be stored. */
  static final Instant END = Instant.parse("2262-01-01T00:00:00Z");

  private TimestampNanos() {}

  static long nanos(Instant instant) {
    if (instant.isBefore(FIRST) || !instant.isBefore(END)) {
      throw new IllegalArgumentException(
          "instant " + instant + " lies outside the years 1678 to 2261");
    }
    return instant.getEpochSecond() * NANOS_A_SECOND + instant.getNano();
  }

  /** The nearest instant that can be stored, to compare stored ones with. */
  static Instant nearest(Instant instant) {
    Instant last = END.minusNanos(1);
    return instant.isBefore(FIRST) ? FIRST : instant.isAfter(last) ? last : instant;
  }

  static Instant instant(long nanos) {
    return Instant.ofEpochSecond(
        Math.floorDiv(nanos, NANOS_A_SECOND), Math.floorMod(nanos, NANOS_A_SECOND));
  }
}
