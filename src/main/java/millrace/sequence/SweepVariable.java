// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.List;
import java.util.Optional;
import millrace.document.LocatedValue;
import millrace.evidence.SweepDirection;

/** The condition that a sweep varies. */
public sealed interface SweepVariable {
  /**
   * The condition in words, for messages.
   *
   * @return for example {@code loads}
   */
  String inWords();

  /**
   * Calls the method for its kind (visitor).
   *
   * @param visitor has a way for every kind
   * @param <R> what comes of it
   * @return what the visitor returns
   */
  <R> R accept(Visitor<R> visitor);

  /**
   * One method per kind of sweep, so that a new kind does not compile until every visitor handles
   * it.
   *
   * @param <R> what comes of it
   */
  interface Visitor<R> {
    /**
     * Deals with this kind.
     *
     * @param over what it is
     * @return what comes of it
     */
    R temperatures(Temperatures over);

    /**
     * Deals with this kind.
     *
     * @param over what it is
     * @return what comes of it
     */
    R ranges(RangesOf over);

    /**
     * Deals with this kind.
     *
     * @param over what it is
     * @return what comes of it
     */
    R slots(Slots over);

    /**
     * Deals with this kind.
     *
     * @param over what it is
     * @return what comes of it
     */
    R loads(Loads over);

    /**
     * Deals with this kind.
     *
     * @param over what it is
     * @return what comes of it
     */
    R supplyVoltages(SupplyVoltages over);

    /**
     * Deals with this kind.
     *
     * @param over what it is
     * @return what comes of it
     */
    R setCurrents(SetCurrents over);
  }

  /**
   * Temperatures, one after another.
   *
   * @param temperatureDegC the setpoints, degC, in order
   * @param rampKPerS fastest change, K/s, above 0; empty for as fast as the chamber can
   * @param soak when the unit counts as being there
   * @param meanwhile the steps that are done during the soak, in order
   */
  record Temperatures(
      List<Double> temperatureDegC,
      Optional<Double> rampKPerS,
      MeasuringRules.SoakRule soak,
      List<Step> meanwhile)
      implements SweepVariable {
    /** Copies the lists. */
    public Temperatures {
      temperatureDegC = List.copyOf(temperatureDegC);
      meanwhile = List.copyOf(meanwhile);
    }

    @Override
    public String inWords() {
      return "temperatures";
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.temperatures(this);
    }
  }

  /**
   * Ranges.
   *
   * @param names their names; empty for all of the datasheet
   */
  record RangesOf(List<LocatedValue<String>> names) implements SweepVariable {
    /** Copies the list. */
    public RangesOf {
      names = List.copyOf(names);
    }

    @Override
    public String inWords() {
      return "ranges";
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.ranges(this);
    }
  }

  /**
   * Slots.
   *
   * @param names their names; empty for all that are filled
   */
  record Slots(List<LocatedValue<String>> names) implements SweepVariable {
    /** Copies the list. */
    public Slots {
      names = List.copyOf(names);
    }

    @Override
    public String inWords() {
      return "slots";
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.slots(this);
    }
  }

  /**
   * Loads.
   *
   * @param kind what the values are
   * @param values in base units (ohm, V or a ratio), 0 or more, as written
   * @param directions in which directions, in order; empty: in the order as written
   */
  record Loads(LoadKind kind, List<Double> values, List<SweepDirection> directions)
      implements SweepVariable {
    /** Copies the lists. */
    public Loads {
      values = List.copyOf(values);
      directions = List.copyOf(directions);
    }

    @Override
    public String inWords() {
      return "loads";
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.loads(this);
    }
  }

  /** What the values of a load sweep are. */
  enum LoadKind {
    /** Resistances, ohm. */
    RESISTANCE,
    /** Terminal voltages, V, at the set or nominal current. */
    VOLTAGE,
    /** Shares of the datasheet's compliance voltage, ratios. */
    SHARE_OF_COMPLIANCE
  }

  /**
   * Supply voltages.
   *
   * @param supplyV V, 0 or more, in order
   */
  record SupplyVoltages(List<Double> supplyV) implements SweepVariable {
    /** Copies the list. */
    public SupplyVoltages {
      supplyV = List.copyOf(supplyV);
    }

    @Override
    public String inWords() {
      return "supply voltages";
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.supplyVoltages(this);
    }
  }

  /**
   * Set currents of a settable source.
   *
   * @param setA A, in order
   */
  record SetCurrents(List<Double> setA) implements SweepVariable {
    /** Copies the list. */
    public SetCurrents {
      setA = List.copyOf(setA);
    }

    @Override
    public String inWords() {
      return "set currents";
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.setCurrents(this);
    }
  }
}
