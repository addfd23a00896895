// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.Optional;
import millrace.sequence.MeasuringRules.OnFailure;
import millrace.sequence.MeasuringRules.ReadingRule;
import millrace.sequence.MeasuringRules.SettleRule;

/**
 * What one place of a sequence states of readings, settling and failure. What it does not state is
 * taken from the steps around it; the innermost statement counts.
 *
 * @param readings how many readings, how long
 * @param settle when the first is taken
 * @param onFailure what happens if that fails
 */
public record MeasuringRuleOverrides(
    Reading readings, Settle settle, Optional<OnFailure> onFailure) {
  /** Nothing stated. */
  public static final MeasuringRuleOverrides NONE =
      new MeasuringRuleOverrides(Reading.NONE, Settle.NONE, Optional.empty());

  /**
   * Statements about readings.
   *
   * @param count the number, or the least number if an uncertainty is asked for
   * @param lineCycles integration time of each, in cycles of the line
   * @param untilRatio standard uncertainty of the mean asked for, of the nominal current
   * @param most the most readings then taken
   * @param voltages beside how many of them the voltage is read
   * @param reversal whether as many are taken with the unit's leads exchanged
   */
  public record Reading(
      Optional<Integer> count,
      Optional<Double> lineCycles,
      Optional<Double> untilRatio,
      Optional<Integer> most,
      Optional<Integer> voltages,
      Optional<Boolean> reversal) {
    /** Nothing stated. */
    public static final Reading NONE =
        new Reading(
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty());

    /** Checks what does not depend on the steps around. */
    public Reading {
      if (count.isPresent() && most.isPresent() && most.get() < count.get()) {
        throw new IllegalArgumentException(
            "at least %s readings and at most %s; expected the first not above the second"
                .formatted(count.get(), most.get()));
      }
    }

    private ReadingRule over(ReadingRule base) {
      int least = count.orElse(base.count());
      Optional<Double> until = untilRatio.or(base::untilRatio);
      int open = untilRatio.isPresent() ? 10 * least : Math.max(base.most(), least);
      return new ReadingRule(
          least,
          lineCycles.orElse(base.lineCycles()),
          until,
          most.orElse(until.isPresent() ? open : least),
          voltages.orElse(base.voltages()),
          reversal.orElse(base.reversal()));
    }
  }

  /**
   * Statements about settling.
   *
   * @param waitS fixed wait, s
   * @param withinRatio how near successive readings must be, of the nominal current
   * @param atMostS the longest wait for that, s
   */
  public record Settle(
      Optional<Double> waitS, Optional<Double> withinRatio, Optional<Double> atMostS) {
    /** Nothing stated. */
    public static final Settle NONE =
        new Settle(Optional.empty(), Optional.empty(), Optional.empty());

    private SettleRule over(SettleRule base) {
      return new SettleRule(
          waitS.orElse(base.waitS()),
          withinRatio.or(base::withinRatio),
          atMostS.orElse(base.atMostS()));
    }
  }

  /**
   * The rules that apply here.
   *
   * @param base what counts around it
   * @return these statements, completed from the base
   * @throws IllegalArgumentException if the two contradict each other, such as a least number of
   *     readings above the most
   */
  public MeasuringRules over(MeasuringRules base) {
    return new MeasuringRules(
        readings.over(base.readings()),
        settle.over(base.settle()),
        onFailure.orElse(base.onFailure()));
  }
}
