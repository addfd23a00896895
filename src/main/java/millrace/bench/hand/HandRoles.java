package millrace.bench.hand;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.bench.hand.Dialogue.Plausible;
import millrace.bench.role.Chamber;
import millrace.bench.role.Load;
import millrace.bench.role.Meter;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RangeSelector;
import millrace.bench.role.Reply;
import millrace.bench.role.Supply;
import millrace.bench.role.Switch;
import millrace.fault.Fault;
import millrace.fault.Place;
import millrace.quantity.Dimension;
import millrace.quantity.Numbers;
import millrace.quantity.Quantities;
import millrace.quantity.QuantityException;

/** The roles of instruments that a person sets and reads. */
final class HandRoles {
  /** Temperatures that a bench can have. */
  static final Plausible EARTHLY_DEGC =
      new Plausible(-100, 300, "a temperature from -100 degC to 300 degC");

  /** Relative humidities. */
  static final Plausible HUMID = new Plausible(0, 1, "a relative humidity from 0 % to 100 %");

  private static final double ROOM_ABOVE_RANGE = 1.25;

  private HandRoles() {}

  /**
   * Reads the ranges of a meter.
   *
   * @throws IllegalArgumentException if they are off the grammar; the message says what was
   *     expected
   */
  static List<MeterRange> ranges(String text, Dimension kind) {
    List<MeterRange> ranges = new ArrayList<>();
    if (text.isBlank()) {
      double full = kind == Dimension.CURRENT ? 10 : 1000;
      return List.of(new MeterRange(full, full, 0));
    }
    for (String each : text.split(",")) {
      try {
        double full = Quantities.parse(each, kind);
        ranges.add(new MeterRange(full, full * ROOM_ABOVE_RANGE, 0));
      } catch (QuantityException e) {
        Fault fault = e.at(Place.of("ranges"));
        throw new IllegalArgumentException(
            "ranges: " + fault.found() + "; expected " + fault.expected(), e);
      }
    }
    ranges.sort(Comparator.comparingDouble(MeterRange::fullScale));
    return List.copyOf(ranges);
  }

  /** A meter whose display is typed. */
  static final class HandMeter implements Meter {
    private final Dialogue dialogue;
    private final Dimension kind;
    private final List<MeterRange> ranges;
    private MeterRange range;
    private double cycles;

    HandMeter(Dialogue dialogue, Dimension kind, List<MeterRange> ranges) {
      this.dialogue = dialogue;
      this.kind = kind;
      this.ranges = ranges;
      this.range = ranges.get(ranges.size() - 1);
    }

    @Override
    public List<MeterRange> ranges() {
      return ranges;
    }

    @Override
    public void prepare(MeterRange range, double lineCycles) {
      if (range.equals(this.range) && lineCycles == cycles) {
        return;
      }
      dialogue.done(
          "Set %s to its range %s and an integration of %s line cycle%s (or the nearest)"
              .formatted(
                  dialogue.who(),
                  shown(range.fullScale()),
                  Numbers.print(lineCycles),
                  lineCycles == 1 ? "" : "s"));
      this.range = range;
      this.cycles = lineCycles;
    }

    @Override
    public Reply read() {
      double most = range.highest();
      return dialogue.number(
          kind, new Plausible(-most, most, "within the range of " + shown(range.fullScale())));
    }

    @Override
    public Map<String, String> readBack() {
      Map<String, String> settings = new LinkedHashMap<>();
      settings.put("range", shown(range.fullScale()));
      settings.put("cycles", Numbers.print(cycles));
      return settings;
    }

    private String shown(double value) {
      return Quantities.print(value, kind);
    }
  }

  /** A decade box that is turned. */
  record HandLoad(Dialogue dialogue, boolean canShort) implements Load {
    @Override
    public void set(double resistanceOhm) {
      dialogue.done(
          "Set %s to %s"
              .formatted(dialogue.who(), Quantities.print(resistanceOhm, Dimension.RESISTANCE)));
    }

    @Override
    public void shortCircuit(boolean shorted) {
      dialogue.done(
          shorted
              ? "Short the output with %s".formatted(dialogue.who())
              : "Take the short away from %s".formatted(dialogue.who()));
    }
  }

  /** A chamber that is set at its panel. */
  record HandChamber(Dialogue dialogue) implements Chamber {
    @Override
    public void setpoint(double temperatureDegC, double rampKPerS) {
      String ramp =
          Double.isInfinite(rampKPerS)
              ? ""
              : ", at most " + Quantities.print(rampKPerS, Dimension.TEMPERATURE_RATE);
      dialogue.done(
          "Set %s to %s%s"
              .formatted(
                  dialogue.who(), Quantities.print(temperatureDegC, Dimension.TEMPERATURE), ramp));
    }

    @Override
    public Reply read() {
      return dialogue.number(Dimension.TEMPERATURE, EARTHLY_DEGC);
    }
  }

  /** A range switch that is turned. */
  record HandSelector(Dialogue dialogue, Map<String, String> words, boolean canSwitchOutput)
      implements RangeSelector {
    @Override
    public void select(String range) {
      dialogue.done("Set %s to %s".formatted(dialogue.who(), words.getOrDefault(range, range)));
    }

    @Override
    public void output(boolean on) {
      dialogue.done("Switch the source %s with %s".formatted(on ? "on" : "off", dialogue.who()));
    }
  }

  /** A supply that is set at its panel. */
  record HandSupply(Dialogue dialogue) implements Supply {
    private static final Plausible VOLTS = new Plausible(0, 1000, "a voltage from 0 V to 1 kV");
    private static final Plausible AMPERES = new Plausible(-10, 100, "a current up to 100 A");

    @Override
    public void set(double voltageV) {
      dialogue.done(
          "Set %s to %s".formatted(dialogue.who(), Quantities.print(voltageV, Dimension.VOLTAGE)));
    }

    @Override
    public void output(boolean on) {
      dialogue.done("Switch %s %s".formatted(dialogue.who(), on ? "on" : "off"));
    }

    @Override
    public Reply read() {
      return dialogue.number(
          "What voltage does %s show?".formatted(dialogue.who()), Dimension.VOLTAGE, VOLTS);
    }

    @Override
    public Reply readCurrent() {
      return dialogue.number(
          "What current does %s show?".formatted(dialogue.who()), Dimension.CURRENT, AMPERES);
    }
  }

  /** Plugs that are moved. */
  record HandSwitch(Dialogue dialogue, Map<String, String> words) implements Switch {
    @Override
    public void connect(String position) {
      dialogue.done(
          "Connect %s at %s".formatted(words.getOrDefault(position, position), dialogue.who()));
    }

    @Override
    public void disconnect() {
      dialogue.done("Disconnect both leads at %s".formatted(dialogue.who()));
    }
  }
}
