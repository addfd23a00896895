// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.evidence.setting.PointSettings;
import millrace.run.journal.ResumeState;

/** The last zero of each range of the current meter. Single-threaded. */
public final class MeterZeros {
  private final Map<String, Double> byRange;

  /** Ranges of the unit whose last zero was begun but failed. */
  private final Set<String> wanting;

  MeterZeros(ResumeState before) {
    byRange = new HashMap<>(before.zeros());
    wanting = new HashSet<>(before.wanting());
  }

  /** Notes that a zero for a range of the unit is begun. */
  public void begin(String range) {
    wanting.add(range);
  }

  /** Notes that the zero of a range of the unit is good. */
  void take(String range, PointSettings settings, double zeroA) {
    byRange.put(settings.currentMeter().range(), zeroA);
    wanting.remove(range);
  }

  /** Tells whether a range of the unit has no zero although one was planned. */
  boolean wanting(String range, PointSettings settings) {
    return wanting.contains(range) && of(settings).isEmpty();
  }

  OptionalDouble of(PointSettings settings) {
    Double zero = byRange.get(settings.currentMeter().range());
    return zero == null ? OptionalDouble.empty() : OptionalDouble.of(zero);
  }
}
