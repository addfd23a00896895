// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * One range of a meter.
 *
 * @param fullScale the full scale that names the range, A or V, above 0
 * @param highest the highest reading it takes, not below fullScale
 * @param resolution the least step of a reading, 0 if not known
 */
public record MeterRange(double fullScale, double highest, double resolution) {
  /** Checks the order. */
  public MeterRange {
    if (!(fullScale > 0) || !(highest >= fullScale) || !(resolution >= 0)) {
      throw new IllegalArgumentException(
          "a meter range of %s with readings up to %s and steps of %s; expected 0 < range <= highest"
              .formatted(fullScale, highest, resolution));
    }
  }

  /**
   * The range for a value: the smallest that takes it with some margin.
   *
   * @param ranges what the meter has
   * @param expected the size of the value that is expected, A or V; its sign does not matter
   * @param room how much larger the value may turn out, a ratio, 0 or more
   * @return the range; the largest if none takes that much; empty only without ranges
   */
  public static Optional<MeterRange> pick(List<MeterRange> ranges, double expected, double room) {
    double size = Math.abs(expected) * (1 + room);
    return sorted(ranges).stream()
        .filter(r -> r.highest >= size)
        .findFirst()
        .or(() -> ranges.stream().max(Comparator.comparingDouble(MeterRange::fullScale)));
  }

  /**
   * The next larger range, for use after an overload.
   *
   * @param ranges what the meter has
   * @return the range; empty if this is the largest
   */
  public Optional<MeterRange> up(List<MeterRange> ranges) {
    return sorted(ranges).stream().filter(r -> r.fullScale > fullScale).findFirst();
  }

  private static List<MeterRange> sorted(List<MeterRange> ranges) {
    return ranges.stream().sorted(Comparator.comparingDouble(MeterRange::fullScale)).toList();
  }
}
