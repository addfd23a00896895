package millrace.sequence;

import java.util.List;
import java.util.Optional;
import millrace.document.Located;
import millrace.evidence.Direction;
import millrace.fault.Place;

/** One step of a sequence: a sweep over a condition, a task, or a part from another file. */
public sealed interface Step {
  /**
   * Where it stands.
   *
   * @return its place in its file
   */
  Place place();

  /**
   * Goes to temperatures, one after another.
   *
   * @param place where it stands
   * @param temperatureDegC the setpoints, degC, in order
   * @param rampKPerS fastest change, K/s; empty for as fast as the chamber can
   * @param soak when the unit counts as being there
   * @param does what is done at each
   */
  record Temperatures(
      Place place,
      List<Double> temperatureDegC,
      Optional<Double> rampKPerS,
      SequenceFile.SoakRule soak,
      List<Step> does)
      implements Step {}

  /**
   * Goes through ranges.
   *
   * @param place where it stands
   * @param names their names; empty for all of the datasheet
   * @param does what is done in each
   */
  record RangesOf(Place place, List<Located<String>> names, List<Step> does) implements Step {}

  /**
   * Goes through slots.
   *
   * @param place where it stands
   * @param names their names; empty for all
   * @param does what is done in each
   */
  record Slots(Place place, List<Located<String>> names, List<Step> does) implements Step {}

  /**
   * Goes through loads.
   *
   * @param place where it stands
   * @param kind what the values are
   * @param values the values in base units (ohm, V or a ratio), in order
   * @param directions in which directions, in order
   * @param does what is done at each
   */
  record Loads(
      Place place, LoadKind kind, List<Double> values, List<Direction> directions, List<Step> does)
      implements Step {
    /** Copies the lists. */
    public Loads {
      values = List.copyOf(values);
      directions = List.copyOf(directions);
      does = List.copyOf(does);
    }
  }

  /** What the values of a load sweep are. */
  enum LoadKind {
    /** Resistances, ohm. */
    RESISTANCE,
    /** Terminal voltages, V, at the nominal current. */
    VOLTAGE,
    /** Shares of the datasheet's compliance voltage, ratios. */
    SHARE_OF_COMPLIANCE
  }

  /**
   * Goes through supply voltages.
   *
   * @param place where it stands
   * @param supplyV V, in order
   * @param does what is done at each
   */
  record SupplyVoltages(Place place, List<Double> supplyV, List<Step> does) implements Step {}

  /**
   * Goes through set currents of a settable source.
   *
   * @param place where it stands
   * @param setA A, in order
   * @param does what is done at each
   */
  record SetCurrents(Place place, List<Double> setA, List<Step> does) implements Step {}

  /**
   * One thing that is done.
   *
   * @param place where it stands
   * @param task what
   * @param readings how many readings, where it differs
   * @param settle how it settles, where it differs
   * @param onFailure what happens if it fails, where it differs
   */
  record Do(
      Place place,
      Task task,
      Optional<SequenceFile.ReadingRule> readings,
      Optional<SequenceFile.SettleRule> settle,
      Optional<SequenceFile.OnFailure> onFailure)
      implements Step {}

  /**
   * The steps of another file.
   *
   * @param place where it stands
   * @param file its path, relative to the file that names it
   */
  record Part(Place place, String file) implements Step {}
}
