// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import com.google.re2j.Pattern;
import java.time.Duration;
import java.time.LocalDate;
import java.util.Collections;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.bench.role.RoleName;
import millrace.calibration.Shunt;
import millrace.fault.FilePlace;
import millrace.link.LinkAddress;

/**
 * A bench file: the instruments that are connected, with their roles, accuracy, certificates and
 * wiring.
 *
 * @param name what the bench is called
 * @param simulated true if no real instrument is behind it
 * @param lineFrequencyHz of the mains, Hz
 * @param instruments by name, in the order of the file
 * @param wiring how they are connected
 * @param changes what is done before range, load and switch change
 * @param safeOrder in which order instruments are put in their safe state
 * @param interlocks what must never happen
 * @param slots where units sit: slot to switch position; empty for one unit without a switch
 * @param standards check standards by name
 */
public record BenchFile(
    String name,
    boolean simulated,
    double lineFrequencyHz,
    Map<String, Entry> instruments,
    Wiring wiring,
    BeforeChange changes,
    List<String> safeOrder,
    Interlocks interlocks,
    Map<String, String> slots,
    Map<String, Standard> standards) {
  /**
   * Margin so that the overshoot of a chamber at its permitted ramp does not trip the rate
   * interlock.
   */
  private static final double RAMP_OF_BOUND = 0.5;

  /** Copies the collections. */
  public BenchFile {
    instruments = Collections.unmodifiableMap(new LinkedHashMap<>(instruments));
    safeOrder = List.copyOf(safeOrder);
    slots = Collections.unmodifiableMap(new LinkedHashMap<>(slots));
    standards = Map.copyOf(standards);
  }

  /** What is done with the output before range, load or switch change. */
  public enum BeforeChange {
    /** The load shorts the output. */
    SHORT_OUTPUT("short output"),
    /** The source is switched off. */
    SOURCE_OFF("source off");

    private final String text;

    BeforeChange(String text) {
      this.text = text;
    }

    /**
     * The words in the file.
     *
     * @return short output or source off
     */
    public String text() {
      return text;
    }
  }

  /**
   * One instrument.
   *
   * @param place where it stands in the file
   * @param name its name
   * @param driver the driver it is spoken to by
   * @param address where it is
   * @param roles what it does, with what is known of it in each role
   * @param settings free words for the driver
   * @param words the instrument's words for ranges and positions, by those of datasheet and bench
   *     file; empty if they are the same
   * @param certificate its calibration; empty if it has none
   * @param identity a pattern that must be found in its identity, such as its serial number; empty
   *     for any
   * @param warmUp how long after power-on its statements begin to hold; empty if not stated
   */
  public record Entry(
      FilePlace place,
      String name,
      String driver,
      LinkAddress address,
      Map<RoleName, RoleFacts> roles,
      Map<String, String> settings,
      Map<String, String> words,
      Optional<Certificate> certificate,
      Optional<Pattern> identity,
      Optional<Duration> warmUp) {
    /** Copies the collections. */
    public Entry {
      roles = roles.isEmpty() ? Map.of() : new EnumMap<>(roles);
      settings = Map.copyOf(settings);
      words = Map.copyOf(words);
    }
  }

  /**
   * A calibration certificate.
   *
   * @param laboratory who issued it
   * @param number its number
   * @param calibrated when
   * @param due until when it counts; empty if not stated
   */
  public record Certificate(
      String laboratory, String number, Optional<LocalDate> calibrated, Optional<LocalDate> due) {
    /**
     * Tells whether the certificate had expired.
     *
     * @param day the day of the run
     * @return true if the due date lies before that day; false if none is stated
     */
    public boolean overdueOn(LocalDate day) {
      return due.filter(d -> d.isBefore(day)).isPresent();
    }
  }

  /**
   * How instruments are connected.
   *
   * @param voltmeter where the voltmeter sits; empty if there is none
   * @param leadsOhm resistance of the leads in the loop, ohm
   * @param guarded true if the high lead is guarded
   * @param cableCapacitanceF of the loop, F
   * @param insulationOhm of leads and fixture from the high lead to ground, as they are wired (with
   *     their guard) and where they leak most, ohm, above 0; empty: not known
   * @param shunt the shunt that the shunt voltmeter reads; empty if the current meter reads current
   * @param fixtureS conductance of the fixture with its standard uncertainty, S
   * @param reproducibility scatter from connection to connection, one per range of the unit or one
   *     for all; may be empty: not known
   * @param offLeakageA what still flows where a source is off and not disconnected, at most, A, 0
   *     or more; empty: not known
   */
  public record Wiring(
      Optional<VoltmeterPlace> voltmeter,
      double leadsOhm,
      boolean guarded,
      double cableCapacitanceF,
      Optional<Double> insulationOhm,
      Optional<Shunt> shunt,
      Optional<Fixture> fixtureS,
      List<Reproducibility> reproducibility,
      Optional<Double> offLeakageA) {
    /** Copies the list. */
    public Wiring {
      reproducibility = List.copyOf(reproducibility);
    }

    /** Nothing stated. */
    public static final Wiring NONE =
        new Wiring(
            Optional.empty(),
            0,
            false,
            0,
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            List.of(),
            Optional.empty());
  }

  /**
   * By how much one connection of a unit differs from another (methods.md 2.6), from a run in which
   * a reference unit was taken out and put back.
   *
   * @param nominalA of the range that it is for, A; empty for all
   * @param ratio standard deviation of one connection, of the current, 0 or more
   * @param connections the number of connections that it was estimated from, 2 or more
   */
  public record Reproducibility(Optional<Double> nominalA, double ratio, int connections) {
    /** Checks the ranges. */
    public Reproducibility {
      if (!(ratio >= 0) || connections < 2) {
        throw new IllegalArgumentException(
            "a scatter of %s from %s connections; expected 0 or more, from 2 or more"
                .formatted(ratio, connections));
      }
    }

    /**
     * What is stated for a range.
     *
     * @param stated all that is stated
     * @param nominalA nominal current of the range, A
     * @return its own, else the one for all ranges; empty if neither is there
     */
    public static Optional<Reproducibility> of(List<Reproducibility> stated, double nominalA) {
      return stated.stream()
          .filter(r -> r.nominalA().isPresent())
          .filter(r -> Math.abs(nominalA / r.nominalA().get() - 1) < 1e-6)
          .findFirst()
          .or(() -> stated.stream().filter(r -> r.nominalA().isEmpty()).findFirst());
    }
  }

  /** Where the voltmeter sits (methods.md 1.3). */
  public enum VoltmeterPlace {
    /** At the unit's terminals, before the current meter: its own current is not measured. */
    UPSTREAM("upstream"),
    /** Across the load, behind the current meter. */
    ACROSS_LOAD("across load");

    private final String text;

    VoltmeterPlace(String text) {
      this.text = text;
    }

    /**
     * The words in the file.
     *
     * @return upstream or across load
     */
    public String text() {
      return text;
    }
  }

  /**
   * A conductance of the fixture.
   *
   * @param valueS S, 0 or more
   * @param standardUncertaintyS S, 0 or more
   */
  public record Fixture(double valueS, double standardUncertaintyS) {}

  /**
   * A check standard that the switch can connect instead of the unit (methods.md 2.7).
   *
   * @param position its switch position
   * @param currentA what it drives, A, not 0
   * @param standardUncertaintyA of that, A
   * @param stability by how much it may move over a night, either way, a ratio, 0 or more
   */
  public record Standard(
      String position, double currentA, double standardUncertaintyA, double stability) {
    /** Checks the ranges. */
    public Standard {
      if (currentA == 0 || !(stability >= 0)) {
        throw new IllegalArgumentException(
            "a check standard of %s A that moves by %s; expected a current that is not 0, and 0 or more"
                .formatted(currentA, stability));
      }
    }
  }

  /**
   * The same bench file with one instrument replaced.
   *
   * @param entry the new instrument; it replaces the one of the same name
   * @return a bench that differs in nothing else
   */
  public BenchFile with(Entry entry) {
    Map<String, Entry> now = new LinkedHashMap<>(instruments);
    now.put(entry.name(), entry);
    return new BenchFile(
        name,
        simulated,
        lineFrequencyHz,
        now,
        wiring,
        changes,
        safeOrder,
        interlocks,
        slots,
        standards);
  }

  /**
   * The instrument in a role. A voltmeter across a shunt is the current meter where there is no
   * other (methods.md 1.2).
   *
   * @param role the role
   * @return the first instrument that has it; empty if none has
   */
  public Optional<Entry> in(RoleName role) {
    Optional<Entry> own = having(role);
    return own.isEmpty() && role == RoleName.CURRENT_METER && wiring.shunt().isPresent()
        ? having(RoleName.SHUNT_VOLTMETER)
        : own;
  }

  private Optional<Entry> having(RoleName role) {
    return instruments.values().stream().filter(e -> e.roles().containsKey(role)).findFirst();
  }

  /**
   * The shunt that stands for the current meter.
   *
   * @return the shunt; empty where a current meter reads current, or nothing does
   */
  public Optional<Shunt> shuntInUse() {
    return having(RoleName.CURRENT_METER).isEmpty() && having(RoleName.SHUNT_VOLTMETER).isPresent()
        ? wiring.shunt()
        : Optional.empty();
  }

  /**
   * What is stated of the instrument in a role. For a voltmeter across a shunt in place of a
   * current meter, the statements of both combined, in amperes.
   *
   * @param role the role
   * @return its facts; empty if no instrument has the role
   */
  public Optional<RoleFacts> facts(RoleName role) {
    if (role == RoleName.CURRENT_METER && shuntInUse().isPresent()) {
      return facts(RoleName.SHUNT_VOLTMETER)
          .map(volts -> ShuntMeter.facts(volts, shuntInUse().get()));
    }
    return having(role).map(e -> e.roles().get(role));
  }

  /**
   * The fastest ramp that its chamber is set to.
   *
   * @return what is stated of the chamber, or half of what the interlock on its rate allows,
   *     whichever is less, K/s; infinite where nothing bounds it
   */
  public double mostRampKPerS() {
    double stated =
        facts(RoleName.CHAMBER)
            .flatMap(facts -> facts.allowed().mostKPerS())
            .orElse(Double.POSITIVE_INFINITY);
    double bound =
        interlocks.chamber().mostKPerS().orElse(Double.POSITIVE_INFINITY) * RAMP_OF_BOUND;
    return Math.min(stated, bound);
  }
}
