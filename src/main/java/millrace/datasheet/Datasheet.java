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
 * What a kind of unit promises.
 *
 * @param name what the kind is called
 * @param serial what its serial numbers look like
 * @param referenceTemperatureDegC T_ref, degC
 * @param openCircuitVoltageV the highest voltage at open terminals, V; drives the 60 V caution
 * @param thermalTimeConstant of the unit in still air; empty if not known
 * @param warmUp how long after power-on what is promised begins to hold; empty if not stated
 * @param compliance what compliance is promised, and by which criterion
 * @param decision how results near a limit are judged
 * @param coverage probability of the stated intervals, above 0.5 and below 1
 * @param typeRun UUID of the run whose coefficients stand in for what a run does not measure; empty
 *     if the file names none
 * @param overdue what an instrument past its calibration date means
 * @param recalibrate after how long a unit is to be calibrated again; empty if not stated
 * @param retests how many retests of one unit are allowed, 0 or more
 * @param conditionalPassFails true if a conditional pass ends with exit code 1
 * @param parts what it is made of, by name; may be empty
 * @param ranges its ranges by name, in the order of the file; not empty
 * @param limits what is promised
 * @param bins how passing units are sorted, first match first; may be empty
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

  /** The temperature that counts where the file names none, degC. */
  public static final double DEFAULT_REFERENCE_DEGC = 23;

  /** The coverage that counts where the file names none. */
  public static final double DEFAULT_COVERAGE = 0.9545;

  /** The voltage above which the usual caution is shown, V DC. */
  public static final double CAUTION_V = 60;

  /** What an instrument past its calibration date means for a run. */
  public enum Overdue {
    /** A warning that stands in the report. */
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
   * The promised compliance.
   *
   * @param voltageV up to which voltage the current holds, V; empty if not promised
   * @param criterion by which ratio the current may have fallen there, above 0 and below 1
   * @param reference what the fall is counted from
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

  /** What the fall of the current at the compliance voltage is counted from (methods.md 3.3). */
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
   * @param referenceLoadOhm the load at which the current is promised, ohm; empty: a short
   * @param complianceV up to which voltage it holds, where it differs from the datasheet's
   * @param madeFrom what it is made from; empty if the file does not say
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
   * @param made what the range is made from
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
   * @param made what the range is made from
   * @return what is stated, else what its reference and first stage give, V; empty if neither is
   *     there
   */
  public Optional<Double> setVoltageV(MadeFrom made) {
    return made.setVoltageV().or(() -> suppliedV(made));
  }

  /**
   * The voltage that the reference and the first stage, if there is one, give.
   *
   * @param made what the range is made from
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
   * The resistance across which the set voltage is held.
   *
   * @param made what the range is made from
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
   * What a range is made from, by names of parts.
   *
   * @param reference the reference
   * @param setVoltageV the voltage held across the resistor, V, above 0; empty: the reference's own
   * @param resistor the range resistor
   * @param amplifier the amplifier
   * @param passDevice the pass device
   * @param series what is in series with the output
   * @param leakage what leaks at the output
   * @param supply what feeds it
   * @param firstStage what makes the set voltage from the reference; empty: nothing does
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
   * A reference over a resistor sets a current, whose drop across a top resistor a second amplifier
   * copies; by names of parts.
   *
   * @param resistor what the reference lies across
   * @param top resistors from the rail to the tap, in series, at least one
   * @param amplifier what holds the reference across the resistor
   */
  public record FirstStage(String resistor, List<String> top, Optional<String> amplifier) {
    /** Copies the list. */
    public FirstStage {
      top = List.copyOf(top);
    }
  }

  /**
   * One bin for passing units: a unit belongs to the first whose every line its results hold.
   *
   * @param name what the bin is called
   * @param lines what the results must hold; empty: everything that passes
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
   * @return the range's own, else the datasheet's; V; empty if neither promises one
   */
  public Optional<Double> complianceVoltageV(String range) {
    return range(range).flatMap(Range::complianceV).or(compliance::voltageV);
  }
}
