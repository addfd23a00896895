// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import java.util.List;
import java.util.Optional;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.Reading;
import millrace.run.condition.ConditionSetter;
import millrace.run.interlock.InterlockWaiting;
import millrace.run.journal.Journal;
import millrace.run.journal.RunContext;
import millrace.run.plausibility.InstrumentTampering;
import millrace.run.plausibility.PlausibilityCheck;
import millrace.run.plausibility.PointCredibilityCheck;

/**
 * The objects that share the work of one run.
 *
 * @param journal writes and tells
 * @param waiting waits and watches
 * @param station sets conditions
 * @param taker takes readings
 * @param zeros keeps the zeros
 * @param vouching checks before a point is stored that no link or instrument was restarted
 *     meanwhile
 * @param plausible finds what cannot be right although every instrument answered
 * @param tampering notices settings that somebody else changed
 * @param severalUnits whether there is more than one unit
 */
public record RunComponents(
    Journal journal,
    InterlockWaiting waiting,
    ConditionSetter station,
    PointMeasurer taker,
    MeterZeros zeros,
    PointCredibilityCheck vouching,
    PlausibilityCheck plausible,
    InstrumentTampering tampering,
    boolean severalUnits) {
  /**
   * Makes them for one run.
   *
   * @param setting what the run was given
   */
  public static RunComponents of(RunContext setting) {
    Journal journal = new Journal(setting);
    InterlockWaiting waiting = new InterlockWaiting(setting, journal);
    ConditionSetter conditionSetter =
        new ConditionSetter(setting.bench(), setting.datasheet(), journal::incident);
    MeterZeros zeros = new MeterZeros(setting.before());
    PointMeasurer pointReader =
        new PointMeasurer(setting, journal, waiting, conditionSetter, zeros);
    PointCredibilityCheck pointCredibilityCheck =
        new PointCredibilityCheck(
            setting.bench(), text -> journal.incident(IncidentKind.CAUTION, text));
    PlausibilityCheck plausibilityCheck =
        new PlausibilityCheck(setting.bench().file(), conditionSetter);
    InstrumentTampering instrumentTampering =
        new InstrumentTampering(setting, conditionSetter, journal);
    boolean several = setting.writers().several();
    return new RunComponents(
        journal,
        waiting,
        conditionSetter,
        pointReader,
        zeros,
        pointCredibilityCheck,
        plausibilityCheck,
        instrumentTampering,
        several);
  }

  /** Stores a point, if no link or instrument was restarted while it was read. */
  public Point commit(BegunPoint begun, List<Reading> readings, Optional<String> trouble) {
    vouching.check();
    return journal.commit(begun.done(trouble, journal.elapsed(), station.settings()), readings);
  }
}
