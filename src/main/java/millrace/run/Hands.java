package millrace.run;

import millrace.evidence.IncidentKind;

/**
 * Those who do the work of one run between them.
 *
 * @param journal writes and tells
 * @param watchman waits and watches
 * @param station sets conditions
 * @param taker takes readings
 * @param zeros keeps the zeros
 * @param vouching says whether what was read can be believed
 * @param severalUnits whether there is more than one unit
 */
record Hands(
    Journal journal,
    Watchman watchman,
    Station station,
    Taker taker,
    Zeros zeros,
    Vouching vouching,
    boolean severalUnits) {
  static Hands of(RunSetting setting) {
    Journal journal = new Journal(setting);
    Watchman watchman = new Watchman(setting, journal);
    Station station = new Station(setting.bench(), setting.datasheet(), journal::incident);
    Zeros zeros = new Zeros(setting.before().zeros());
    Taker taker = new Taker(setting, journal, watchman, station, zeros);
    Vouching vouching =
        new Vouching(setting.bench(), text -> journal.incident(IncidentKind.CAUTION, text));
    return new Hands(
        journal, watchman, station, taker, zeros, vouching, setting.writers().several());
  }
}
