// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import millrace.evidence.DecisionRule;

/**
 * The specification of a kind of unit.
 *
 * @param name name of the kind
 * @param serial pattern of its serial numbers
 * @param referenceTemperatureDegC T_ref, degC
 * @param openCircuitVoltageV the highest voltage at open terminals, V; drives the 60 V caution
 * @param thermalTimeConstant of the unit in still air; empty if not known
 * @param warmUp time from power-on after which the limits hold; empty if not stated
 * @param compliance the specified compliance and its criterion
 * @param decision the rule for results near a limit
 * @param coverage probability of the stated intervals, above 0.5 and below 1
 * @param typeRun UUID of the run that supplies coefficients not measured; empty if the file names
 *     none
 * @param overdue the consequence of an instrument past its calibration date
 * @param recalibrate recalibration interval of a unit; empty if not stated
 * @param retests number of retests of one unit allowed, 0 or more
 * @param conditionalPassFails true if a conditional pass ends with exit code 1
 * @param parts its parts, by name; may be empty
 * @param ranges its ranges by name, in the order of the file; not empty
 * @param limits its limits
 * @param bins bins for passing units, first match first; may be empty
 */
public record Datasheet(
    String name,
    Optional<Pattern> serial,
    double referenceTemperatureDegC,
    Optional<Double> openCircuitVoltageV,
    Optional<Duration> thermalTimeConstant,
    Optional<Duration> warmUp,
    Compliance compliance,
    DecisionRule decision,
    double coverage,
    Optional<UUID> typeRun,
    Overdue overdue,
    Optional<RecalibrationInterval> recalibrate,
    int retests,
    boolean conditionalPassFails,
    Map<String, DatasheetPart> parts,
    Map<String, Range> ranges,
    List<DatasheetLimit> limits,
    List<Bin> bins) {

  /** Copies the lists. */
  public Datasheet {
    limits = List.copyOf(limits);
    bins = List.copyOf(bins);
  }

  /** The default reference temperature, degC. */
  public static final double DEFAULT_REFERENCE_DEGC = 23;

  /** The default coverage. */
  public static final double DEFAULT_COVERAGE = 0.9545;

  /** The voltage above which the usual caution is shown, V DC. */
  public static final double CAUTION_V = 60;

  /** The consequence for a run of an instrument past its calibration date. */
  public enum Overdue {
    /** A warning in the report. */
    WARN("warn"),
    /** The run does not start. */
    REFUSE("refuse");

    private final String text;

    Overdue(String text) {
      this.text = text;
    }

    /**
     * The word in the file.
     *
     * @return warn or refuse
     */
    public String text() {
      return text;
    }
  }

  /**
   * The specified compliance.
   *
   * @param voltageV voltage up to which the current holds, V; empty if not specified
   * @param criterion allowed fall of the current there, a ratio above 0 and below 1
   * @param reference the reference of the fall
   */
  public record Compliance(Optional<Double> voltageV, double criterion, Reference reference) {
    /** Checks the criterion. */
    public Compliance {
      if (!(criterion > 0 && criterion < 1)) {
        throw new IllegalArgumentException(
            "the compliance criterion is " + criterion + ", expected above 0 and below 100 %");
      }
    }
  }

  /** The reference for the fall of the current at the compliance voltage (methods.md 3.3). */
  public enum Reference {
    /** The plateau line. */
    LINE("line"),
    /** The current into a short. */
    SHORT("short");

    private final String text;

    Reference(String text) {
      this.text = text;
    }

    /**
     * The word in the file.
     *
     * @return line or short
     */
    public String text() {
      return text;
    }
  }

  /**
   * One range.
   *
   * @param name its name
   * @param nominalA nominal current, A; not 0
   * @param referenceLoadOhm the load at which the current is specified, ohm; empty: a short
   * @param complianceV its own compliance voltage if it differs from the datasheet's, V
   * @param madeFrom its parts; empty if the file does not state them
   */
  public record Range(
      String name,
      double nominalA,
      Optional<Double> referenceLoadOhm,
      Optional<Double> complianceV,
      Optional<MadeFrom> madeFrom) {
    /** Checks the nominal current. */
    public Range {
      if (nominalA == 0) {
        throw new IllegalArgumentException(
            "range '" + name + "' has a nominal current of 0; expected any other");
      }
    }
  }

  /**
   * The nominal voltage of the reference that a range is made from.
   *
   * @param made the parts of the range
   * @return V; empty if it names no reference of the datasheet
   */
  public Optional<Double> referenceV(MadeFrom made) {
    return Optional.ofNullable(parts.get(made.reference()))
        .filter(DatasheetPart.Reference.class::isInstance)
        .map(p -> ((DatasheetPart.Reference) p).valueV());
  }

  /**
   * The voltage held across the resistor of a range.
   *
   * @param made the parts of the range
   * @return the stated voltage, else that of its reference and first stage, V; empty without either
   */
  public Optional<Double> setVoltageV(MadeFrom made) {
    return made.setVoltageV().or(() -> suppliedV(made));
  }

  /**
   * The voltage that the reference and the first stage, if there is one, give.
   *
   * @param made the parts of the range
   * @return V; empty where a part is missing
   */
  public Optional<Double> suppliedV(MadeFrom made) {
    return referenceV(made)
        .flatMap(
            v ->
                made.firstStage().isEmpty()
                    ? Optional.of(v)
                    : ohm(made.firstStage().get().top())
                        .flatMap(
                            top ->
                                ohm(List.of(made.firstStage().get().resistor()))
                                    .map(set -> v * top / set)));
  }

  /**
   * The resistance with the set voltage across it.
   *
   * @param made the parts of the range
   * @return ohm; empty where a part is missing
   */
  public Optional<Double> resistanceOhm(MadeFrom made) {
    List<String> string = new ArrayList<>(List.of(made.resistor()));
    string.addAll(made.taps());
    return ohm(string);
  }

  private Optional<Double> ohm(List<String> names) {
    double sum = 0;
    for (String name : names) {
      if (!(parts.get(name) instanceof DatasheetPart.Resistor r)) {
        return Optional.empty();
      }
      sum += r.valueOhm();
    }
    return Optional.of(sum);
  }

  /**
   * The parts of a range, by name.
   *
   * @param reference the reference
   * @param setVoltageV the voltage held across the resistor, V, above 0; empty: the reference's own
   * @param resistor the range resistor
   * @param amplifier the amplifier
   * @param passDevice the pass device
   * @param series the parts in series with the output
   * @param leakage the leakage at the output
   * @param supply its supply
   * @param firstStage the stage that makes the set voltage from the reference; empty without one
   * @param taps further resistors of a tapped string, in series with the range resistor
   */
  public record MadeFrom(
      String reference,
      Optional<Double> setVoltageV,
      String resistor,
      Optional<String> amplifier,
      Optional<String> passDevice,
      List<String> series,
      Optional<String> leakage,
      Optional<String> supply,
      Optional<FirstStage> firstStage,
      List<String> taps) {
    /** Copies the lists, checks the voltage. */
    public MadeFrom {
      series = List.copyOf(series);
      taps = List.copyOf(taps);
      if (setVoltageV.isPresent() && !(setVoltageV.get() > 0)) {
        throw new IllegalArgumentException(
            "the set voltage is " + setVoltageV.get() + " V; expected above 0");
      }
    }
  }

  /**
   * A first stage, by names of parts: a reference across a resistor sets a current, and a second
   * amplifier copies the drop of that current across a top resistor.
   *
   * @param resistor the resistor with the reference across it
   * @param top resistors from the rail to the tap, in series, at least one
   * @param amplifier the amplifier that holds the reference across the resistor
   */
  public record FirstStage(String resistor, List<String> top, Optional<String> amplifier) {
    /** Copies the list. */
    public FirstStage {
      top = List.copyOf(top);
    }
  }

  /**
   * One bin for passing units: a unit belongs to the first bin with every line met.
   *
   * @param name name of the bin
   * @param lines its limits; empty: every unit that passes
   */
  public record Bin(String name, List<DatasheetLimit> lines) {
    /** Copies the list. */
    public Bin {
      lines = List.copyOf(lines);
    }
  }

  /**
   * A range by its name.
   *
   * @param range the name
   * @return the range; empty if the datasheet has none of this name
   */
  public Optional<Range> range(String range) {
    return Optional.ofNullable(ranges.get(range));
  }

  /**
   * The compliance voltage of one range.
   *
   * @param range the name of a range
   * @return the range's own, else the datasheet's; V; empty if neither states one
   */
  public Optional<Double> complianceVoltageV(String range) {
    return range(range).flatMap(Range::complianceV).or(compliance::voltageV);
  }
}
