// SPDX-License-Identifier: Apache-2.0
package millrace.bench.check;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Supplier;
import millrace.bench.BenchFile;
import millrace.bench.role.Chamber;
import millrace.bench.role.Instrument;
import millrace.bench.role.Load;
import millrace.bench.role.Meter;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RangeSelector;
import millrace.bench.role.Reply;
import millrace.bench.role.Reverser;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.bench.role.Supply;
import millrace.bench.role.Switch;
import millrace.fault.InstrumentException;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * Tries every action of an instrument in its roles, one after another; a failed one does not stop
 * the rest. For a bench in its safe state: outputs stay off, a chamber is set to its present
 * temperature.
 */
public final class RoleTrial {
  private static final double SOME_OHM = 1000;

  private final BenchFile file;
  private final Set<String> ranges;
  private final Listener listener;
  private final List<BenchCheckFinding> found = new ArrayList<>();

  /** Is called as each action ends. */
  public interface Listener {
    /**
     * An action ended.
     *
     * @param finding what came of it
     */
    void tried(BenchCheckFinding finding);
  }

  /**
   * A trial of one bench.
   *
   * @param file the bench file, for positions and words
   * @param ranges names of ranges of the unit that a selector may select; may be empty
   * @param listener hears of each action as it ends
   */
  public RoleTrial(BenchFile file, Collection<String> ranges, Listener listener) {
    this.file = file;
    this.ranges = new TreeSet<>(ranges);
    this.listener = listener;
  }

  /**
   * Tries every role that the bench file gives an instrument.
   *
   * @param entry the instrument in the bench file
   * @param instrument the same, open
   * @return one finding per action, in order
   */
  public List<BenchCheckFinding> of(BenchFile.Entry entry, Instrument instrument) {
    tried("identity", instrument::identity);
    ranges.addAll(entry.words().keySet());
    entry.roles().keySet().forEach(role -> role(role, instrument));
    tried("errors", () -> noErrors(instrument.errors()));
    return List.copyOf(found);
  }

  private static String noErrors(List<String> errors) {
    if (!errors.isEmpty()) {
      throw new InstrumentException(
          "it complains of: %s; expected no errors. Compare the commands with its manual."
              .formatted(String.join(", ", errors)));
    }
    return "none";
  }

  private void role(RoleName role, Instrument instrument) {
    instrument.in(role, Meter.class).ifPresent(m -> meter(role, m));
    instrument.in(role, Load.class).ifPresent(l -> load(role.text(), l));
    instrument.in(role, RangeSelector.class).ifPresent(s -> selector(role.text(), s));
    instrument.in(role, Switch.class).ifPresent(s -> positions(role.text(), s));
    instrument.in(role, Supply.class).ifPresent(s -> supply(role.text(), s));
    instrument.in(role, Chamber.class).ifPresent(c -> chamber(role.text(), c));
    instrument.in(role, Reverser.class).ifPresent(r -> reverser(role.text(), r));
    boolean plain =
        instrument.in(role, Meter.class).isEmpty() && instrument.in(role, Chamber.class).isEmpty();
    instrument
        .in(role, Sensor.class)
        .filter(s -> plain)
        .ifPresent(s -> tried(role.text() + ", read", () -> number(s.read(), kind(role))));
  }

  private static Dimension kind(RoleName role) {
    return switch (role) {
      case CURRENT_METER -> Dimension.CURRENT;
      case VOLTMETER, SHUNT_VOLTMETER, SUPPLY -> Dimension.VOLTAGE;
      case LOAD -> Dimension.RESISTANCE;
      case HYGROMETER -> Dimension.HUMIDITY;
      default -> Dimension.TEMPERATURE;
    };
  }

  private void meter(RoleName role, Meter meter) {
    for (MeterRange range : meter.ranges()) {
      String at = role.text() + ", range " + QuantityText.print(range.fullScale(), kind(role));
      tried(
          at,
          () -> {
            meter.prepare(range, 1);
            return "set; says " + meter.readBack().words();
          });
      tried(at + ", read", () -> numberOrOverload(meter.read(), kind(role)));
    }
  }

  private void load(String role, Load load) {
    List<Double> known = load.settingsOhm();
    for (double ohm : known.isEmpty() ? List.of(SOME_OHM, 0.0) : known) {
      done(
          "%s, set %s".formatted(role, QuantityText.print(ohm, Dimension.RESISTANCE)),
          () -> load.set(ohm));
    }
    if (load.canShort()) {
      done(role + ", unshort", () -> load.shortCircuit(false));
      done(role + ", short", () -> load.shortCircuit(true));
    }
  }

  private void selector(String role, RangeSelector selector) {
    if (ranges.isEmpty()) {
      tell(BenchCheckFinding.caution(role, "no range was tried: none is known. Give --datasheet."));
    }
    ranges.forEach(range -> done(role + ", select " + range, () -> selector.select(range)));
    if (selector.canSwitchOutput()) {
      done(role + ", output off", () -> selector.output(false));
    }
  }

  private void positions(String role, Switch relays) {
    for (String position : file.slots().values()) {
      done(role + ", connect " + position, () -> relays.connect(position));
    }
    done(role + ", disconnect", relays::disconnect);
  }

  private void supply(String role, Supply supply) {
    done(role + ", output off", () -> supply.output(false));
    done(role + ", set 0 V", () -> supply.set(0));
    tried(role + ", read current", () -> number(supply.readCurrent(), Dimension.CURRENT));
  }

  private void chamber(String role, Chamber chamber) {
    tried(
        role + ", stay",
        () -> {
          Reply reply = chamber.read();
          String text = number(reply, Dimension.TEMPERATURE);
          chamber.setpoint(((Reply.Number) reply).value(), Double.POSITIVE_INFINITY);
          return "set to where it is, " + text;
        });
  }

  private void reverser(String role, Reverser reverser) {
    done(role + ", reverse", () -> reverser.reverse(true));
    done(role + ", forward", () -> reverser.reverse(false));
  }

  private static String numberOrOverload(Reply reply, Dimension kind) {
    return reply instanceof Reply.Overload
        ? "overload, '" + reply.raw() + "'"
        : number(reply, kind);
  }

  private static String number(Reply reply, Dimension kind) {
    if (reply instanceof Reply.Number number) {
      return "'%s' is %s".formatted(reply.raw(), QuantityText.print(number.value(), kind));
    }
    throw new InstrumentException(
        ("the reply '%s' is %s; expected a number. Compare the driver's pattern with the reply; a"
                + " unit behind a number is taken only where the driver lists it under 'units:'.")
            .formatted(reply.raw(), reply.state().text()));
  }

  private void done(String what, Runnable action) {
    tried(
        what,
        () -> {
          action.run();
          return "done";
        });
  }

  private void tried(String what, Supplier<String> action) {
    try {
      tell(BenchCheckFinding.good(what, action.get()));
    } catch (InstrumentException e) {
      boolean mute =
          e.trouble()
              .filter(t -> t.asked().reply().isEmpty() && t.asked().waited().toNanos() > 0)
              .isPresent();
      String text = String.valueOf(e.getMessage());
      tell(mute ? BenchCheckFinding.noAnswer(what, text) : BenchCheckFinding.bad(what, text));
    }
  }

  private void tell(BenchCheckFinding finding) {
    found.add(finding);
    listener.tried(finding);
  }
}
