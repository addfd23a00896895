// SPDX-License-Identifier: Apache-2.0
package millrace.run.interlock;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import millrace.quantity.TimeSpanSeconds;
import millrace.time.TimeSource;

/**
 * Notices that somebody set the wall clock, that local time changes to or from summer time, and
 * that the machine slept. Single-threaded.
 */
public final class ClockWatch {
  private static final Duration LEAST = Duration.ofSeconds(2);

  private final TimeSource time;
  private final ZoneId zone;
  private Gap gap;
  private Duration asleep;
  private ZoneOffset offset;

  /**
   * Watches one clock.
   *
   * @param time the clock
   * @param zone whose summer time is told
   */
  public ClockWatch(TimeSource time, ZoneId zone) {
    this.time = time;
    this.zone = zone;
    this.gap = gap();
    this.asleep = time.asleep();
    this.offset = zone.getRules().getOffset(time.now());
  }

  /**
   * What was noticed.
   *
   * @param texts one for each thing
   * @param slept how long the machine slept since the look before; zero if it did not
   */
  public record Noticed(List<String> texts, Duration slept) {}

  /**
   * The difference of the wall clock and elapsed time, constant unless the clock is set. It has two
   * bounds, since the two clocks cannot be read at the same instant.
   */
  private record Gap(Duration least, Duration most) {
    Duration since(Gap before) {
      Duration forth = least.minus(before.most);
      Duration back = most.minus(before.least);
      return !forth.isNegative() ? forth : back.isNegative() ? back : Duration.ZERO;
    }

    Gap plus(Duration by) {
      return new Gap(least.plus(by), most.plus(by));
    }
  }

  private Gap gap() {
    Duration before = time.elapsed();
    Duration wall = Duration.between(Instant.EPOCH, time.now());
    return new Gap(wall.minus(time.elapsed()), wall.minus(before));
  }

  /** What happened since the look before. */
  public Noticed look() {
    List<String> texts = new ArrayList<>();
    Gap now = gap();
    boolean moved = now.since(gap).abs().compareTo(LEAST) > 0;
    Duration slept = moved ? slept(texts) : Duration.ZERO;
    jump(now, slept, texts);
    summerTime(texts);
    return new Noticed(texts, slept);
  }

  /** Asked only if the wall clock jumped ahead, as it does while a machine sleeps. */
  private Duration slept(List<String> texts) {
    Duration by = time.asleep().minus(asleep);
    if (by.compareTo(LEAST) <= 0) {
      return Duration.ZERO;
    }
    asleep = asleep.plus(by);
    texts.add(
        "the machine slept for %s: nothing was read or watched meanwhile; what was under way is begun again, after a soak"
            .formatted(span(by)));
    return by;
  }

  /** A jump changes no duration, but time stamps before and after it cannot be compared. */
  private void jump(Gap now, Duration slept, List<String> texts) {
    Duration jump = now.since(gap.plus(slept));
    gap = now;
    if (jump.abs().compareTo(LEAST) > 0) {
      texts.add(
          "the wall clock jumped by %s%s against elapsed time; durations are not touched"
              .formatted(jump.isNegative() ? "-" : "+", span(jump.abs())));
    }
  }

  private void summerTime(List<String> texts) {
    ZoneOffset now = zone.getRules().getOffset(time.now());
    if (!now.equals(offset)) {
      texts.add(
          "local time went from UTC%s to UTC%s; stamps are in UTC, durations are not touched"
              .formatted(offset, now));
      offset = now;
    }
  }

  private static String span(Duration span) {
    return TimeSpanSeconds.print(span, 4);
  }
}
