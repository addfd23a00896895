// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import java.util.List;
import java.util.Optional;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.Reading;
import millrace.run.condition.Station;
import millrace.run.interlock.InterlockWaiting;
import millrace.run.journal.Journal;
import millrace.run.journal.RunSetting;
import millrace.run.plausibility.Plausible;
import millrace.run.plausibility.Tampering;
import millrace.run.plausibility.Vouching;

/**
 * Those who do the work of one run between them.
 *
 * @param journal writes and tells
 * @param waiting waits and watches
 * @param station sets conditions
 * @param taker takes readings
 * @param zeros keeps the zeros
 * @param vouching says whether what was read can be believed
 * @param plausible says what cannot be right although every instrument answered well
 * @param tampering notices what was changed behind the run's back
 * @param severalUnits whether there is more than one unit
 */
public record RunWorkers(
    Journal journal,
    InterlockWaiting waiting,
    Station station,
    Taker taker,
    Zeros zeros,
    Vouching vouching,
    Plausible plausible,
    Tampering tampering,
    boolean severalUnits) {
  /**
   * Gathers them.
   *
   * @param setting what the run was given
   */
  public static RunWorkers of(RunSetting setting) {
    Journal journal = new Journal(setting);
    InterlockWaiting waiting = new InterlockWaiting(setting, journal);
    Station station = new Station(setting.bench(), setting.datasheet(), journal::incident);
    Zeros zeros = new Zeros(setting.before());
    Taker taker = new Taker(setting, journal, waiting, station, zeros);
    Vouching vouching =
        new Vouching(setting.bench(), text -> journal.incident(IncidentKind.CAUTION, text));
    Plausible plausible = new Plausible(setting.bench().file(), station);
    Tampering tampering = new Tampering(setting, station, journal);
    boolean several = setting.writers().several();
    return new RunWorkers(
        journal, waiting, station, taker, zeros, vouching, plausible, tampering, several);
  }

  /** Writes a point down, if the instruments vouch for what was read. */
  public Point commit(BegunPoint begun, List<Reading> readings, Optional<String> trouble) {
    vouching.check();
    return journal.commit(begun.done(trouble, journal.elapsed(), station.settings()), readings);
  }
}
