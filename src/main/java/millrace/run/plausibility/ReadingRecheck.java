// SPDX-License-Identifier: Apache-2.0
package millrace.run.plausibility;

import java.util.List;
import java.util.Optional;
import millrace.bench.role.RoleName;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.evidence.setting.MeterSettings;
import millrace.evidence.setting.PointSettings;
import millrace.run.condition.ConditionSetter;
import millrace.run.journal.Journal;

/**
 * Takes more readings where those of one point disagree, until it is clear which one is wrong; that
 * one is kept as suspect and replaced by another. Single-threaded.
 */
public final class ReadingRecheck {
  private final Journal journal;
  private final ConditionSetter conditionSetter;
  private final ReadingOutliers readingOutliers = new ReadingOutliers();

  /**
   * Looks at the readings of one run.
   *
   * @param journal takes what is noticed as incidents
   * @param conditionSetter says under which conditions is read
   */
  public ReadingRecheck(Journal journal, ConditionSetter conditionSetter) {
    this.journal = journal;
    this.conditionSetter = conditionSetter;
  }

  /**
   * Looks at the readings of one meter.
   *
   * @param readings of one point; suspects are marked in it
   * @param role the meter
   * @param what the kind of reading; readings of one kind have the same scatter
   * @param again reads the meter once more, into the same list
   * @return why the point must be flagged; empty if its readings agree by now
   */
  public Optional<String> look(List<Reading> readings, RoleName role, String what, Runnable again) {
    PointSettings settings = conditionSetter.settings();
    double step = resolution(role, settings);
    String level = role == RoleName.VOLTMETER ? " at level " + level(readings, step) : "";
    ReadingOutliers.Way way =
        new ReadingOutliers.Way(role.signal().orElseThrow(), what + " " + settings + level, step);
    complete(readings, role, way, again);
    for (int place : readingOutliers.off(readings, way)) {
      Reading off = readings.get(place);
      readings.set(place, SuspectReadings.one(off));
      flag(journal, role, off);
      again.run();
    }
    boolean apart = !readingOutliers.off(readings, way).isEmpty();
    readingOutliers.learn(readings, way);
    return apart ? Optional.of(apart(role)) : Optional.empty();
  }

  /** Keeps in the journal that a reading is kept as suspect. */
  static void flag(Journal journal, RoleName role, Reading off) {
    journal.incident(
        IncidentKind.FLAG,
        "the %s answered '%s', more than six standard deviations off its neighbours; kept as suspect, asked again"
            .formatted(role.text(), off.raw()));
  }

  static String apart(RoleName role) {
    return "readings of the %s do not agree".formatted(role.text());
  }

  private void complete(
      List<Reading> readings, RoleName role, ReadingOutliers.Way way, Runnable again) {
    int wanting = readingOutliers.wanting(readings, way);
    if (wanting > 0) {
      journal.incident(
          IncidentKind.RETRY,
          "readings of the %s lie farther apart than they should; read %s times more to tell which is off"
              .formatted(role.text(), wanting));
      for (int i = 0; i < wanting; i++) {
        again.run();
      }
    }
  }

  /**
   * The scatter of a voltage is that of the current times the load, so that it grows with the
   * voltage. The class of a voltage is the number of factors of 1.4 above a thousand steps, below
   * which the meter's own noise dominates.
   */
  private static long level(List<Reading> readings, double step) {
    double[] volts =
        readings.stream()
            .filter(r -> r.signal() == MeasuredSignal.VOLTAGE && r.state() == ReadingState.NUMBER)
            .mapToDouble(r -> Math.abs(r.value().orElseThrow()))
            .sorted()
            .toArray();
    double middle = volts.length == 0 ? 0 : volts[volts.length / 2];
    double least = step > 0 ? 1000 * step : 1e-3;
    return Math.round(2 * Math.log(Math.max(middle, least) / least) / Math.log(2));
  }

  /** The least step of a meter as it is set, in its unit; 0 if it is not known. */
  static double resolution(RoleName role, PointSettings settings) {
    MeterSettings meter =
        role == RoleName.VOLTMETER ? settings.voltmeter() : settings.currentMeter();
    return meter.resolution().orElse(0);
  }
}
