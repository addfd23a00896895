// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.run.journal.MeterZeroKeys;
import millrace.run.journal.ResumeState;

/** The last zero of each range of the current meter. Single-threaded. */
public final class MeterZeros {
  private final Map<String, Double> byRange;

  /** Ranges of the unit whose last zero was begun and did not come to anything. */
  private final Set<String> wanting;

  MeterZeros(ResumeState before) {
    byRange = new HashMap<>(before.zeros());
    wanting = new HashSet<>(before.wanting());
  }

  /** A zero for a range of the unit is begun. */
  public void begin(String range) {
    wanting.add(range);
  }

  /** The zero that was begun for a range of the unit can be taken off. */
  void take(String range, Map<String, String> settings, double zeroA) {
    byRange.put(MeterZeroKeys.rangeOf(settings), zeroA);
    wanting.remove(range);
  }

  /** Tells whether a range of the unit goes without a zero that it was to have. */
  boolean wanting(String range, Map<String, String> settings) {
    return wanting.contains(range) && of(settings).isEmpty();
  }

  OptionalDouble of(Map<String, String> settings) {
    Double zero = byRange.get(MeterZeroKeys.rangeOf(settings));
    return zero == null ? OptionalDouble.empty() : OptionalDouble.of(zero);
  }
}
