// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.screening;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import millrace.assessment.tally.PointReadingTally;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointConditions;
import millrace.evidence.PointState;

/**
 * Excludes points at which a range did not work as a source although it worked at others: a failure
 * or a wrong connection is the cause, so these points give no information on the unit. If a range
 * never worked, its points count.
 *
 * <p>A point works if the current is within a tenth of the set current. Any other point is excluded
 * if it is flagged and has no current, or if its load needs at most half of a voltage at which the
 * range worked, so that a knee is no explanation.
 */
public final class DeadPointScreening {
  private static final double NOTHING = 1e-3;
  private static final double OFF = 0.1;
  private static final double SURELY_BELOW_KNEE = 0.5;

  private final PointReadingTally tally;
  private final double askedA;
  private final double fullA;
  private final double ratio;

  private DeadPointScreening(PointReadingTally tally) {
    PointConditions c = tally.point().conditions();
    this.tally = tally;
    askedA = c.setA().orElse(c.nominalA().orElse(0));
    fullA = Math.max(Math.abs(askedA), c.nominalA().orElse(0));
    double current = tally.mean(MeasuredSignal.CURRENT).orElse(askedA);
    ratio = fullA == 0 ? 1 : 1 + Math.signum(askedA) * (current - askedA) / fullA;
  }

  /** The points that count; the notes name the excluded ones. */
  public static List<PointReadingTally> without(
      List<PointReadingTally> measured, List<String> notes) {
    List<DeadPointScreening> all = measured.stream().map(DeadPointScreening::new).toList();
    Map<String, Double> working = new HashMap<>();
    all.stream()
        .filter(DeadPointScreening::works)
        .forEach(p -> working.merge(p.range(), p.loadV().orElse(0), Math::max));
    Map<String, Integer> out = new TreeMap<>();
    List<PointReadingTally> kept = new ArrayList<>();
    for (DeadPointScreening p : all) {
      if (working.containsKey(p.range()) && p.isDead(working.get(p.range()))) {
        out.merge(p.range(), 1, Integer::sum);
      } else {
        kept.add(p.tally);
      }
    }
    out.forEach(
        (range, count) ->
            notes.add(
                "range %s: %s points at which no current or a wholly different one flowed are left out; it worked at others"
                    .formatted(range, count)));
    return kept;
  }

  private boolean works() {
    return Math.abs(ratio - 1) <= OFF;
  }

  private boolean isDead(double workedAtV) {
    boolean none = ratio < NOTHING && tally.point().state() == PointState.FLAGGED;
    return none || (!works() && loadV().orElse(Double.MAX_VALUE) <= SURELY_BELOW_KNEE * workedAtV);
  }

  /** The voltage that its load or the setting of an electronic load needs, V. */
  private OptionalDouble loadV() {
    PointConditions c = tally.point().conditions();
    return c.loadOhm().isPresent()
        ? OptionalDouble.of(c.loadOhm().getAsDouble() * Math.abs(askedA))
        : c.terminalVoltageV().stream().map(Math::abs).findFirst();
  }

  private String range() {
    return tally.point().conditions().range().orElse("");
  }
}
