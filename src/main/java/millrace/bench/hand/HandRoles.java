// SPDX-License-Identifier: Apache-2.0
package millrace.bench.hand;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.bench.hand.ByHandDialogue.Plausible;
import millrace.bench.role.Chamber;
import millrace.bench.role.Load;
import millrace.bench.role.ManualTaskContext;
import millrace.bench.role.Meter;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RangeSelector;
import millrace.bench.role.Reply;
import millrace.bench.role.Supply;
import millrace.bench.role.Switch;
import millrace.evidence.setting.MeterSettings;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;
import org.jspecify.annotations.Nullable;

/** The roles of instruments that a person sets and reads. */
final class HandRoles {
  /** Temperatures that a bench can have. */
  static final Plausible EARTHLY_DEGC =
      new Plausible(-100, 300, "a temperature from -100 degC to 300 degC");

  /** Relative humidities. */
  static final Plausible HUMID = new Plausible(0, 1, "a relative humidity from 0 % to 100 %");

  private static final double ROOM_ABOVE_RANGE = 1.25;

  /** How far a reading may exceed a range that was only assumed, a factor. */
  private static final double ROOM_ABOVE_GUESS = 10;

  /** Ranges of a meter whose ranges are not stated. */
  private static final Map<Dimension, List<Double>> USUAL_DECADES =
      Map.of(
          Dimension.CURRENT,
              List.of(1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 0.01, 0.1, 1.0, 10.0),
          Dimension.VOLTAGE, List.of(0.1, 1.0, 10.0, 100.0, 1000.0));

  private HandRoles() {}

  /**
   * The ranges of a meter.
   *
   * @param list smallest first, not empty
   * @param stated true if they stand in the bench file
   */
  record Ranges(List<MeterRange> list, boolean stated) {}

  /**
   * Reads the ranges of a meter; those of its other role may stand among them.
   *
   * @throws IllegalArgumentException if they do not follow the grammar; the message says what was
   *     expected
   */
  static Ranges ranges(String text, Dimension kind) {
    List<MeterRange> ranges = new ArrayList<>();
    for (String each : text.isBlank() ? new String[0] : text.split(",")) {
      range(each, kind).ifPresent(ranges::add);
    }
    if (ranges.isEmpty()) {
      return new Ranges(USUAL_DECADES.get(kind).stream().map(HandRoles::called).toList(), false);
    }
    ranges.sort(Comparator.comparingDouble(MeterRange::fullScale));
    return new Ranges(List.copyOf(ranges), true);
  }

  private static MeterRange called(double full) {
    return new MeterRange(full, full * ROOM_ABOVE_RANGE, 0);
  }

  private static Optional<MeterRange> range(String each, Dimension kind) {
    try {
      return Optional.of(called(QuantityText.parse(each, kind)));
    } catch (QuantityException e) {
      Dimension other = kind == Dimension.CURRENT ? Dimension.VOLTAGE : Dimension.CURRENT;
      if (isA(each, other)) {
        return Optional.empty();
      }
      InputFault fault = e.at(FilePlace.of("ranges"));
      throw new IllegalArgumentException(
          "ranges: " + fault.found() + "; expected " + fault.expected(), e);
    }
  }

  private static boolean isA(String each, Dimension kind) {
    try {
      return QuantityText.parse(each, kind) > 0;
    } catch (QuantityException e) {
      return false;
    }
  }

  /**
   * A meter whose display a person types. The range of a current meter is part of the loop; other
   * settings of its panel are asked for with the first reading that needs them.
   */
  static final class HandMeter implements Meter {
    private final ByHandDialogue byHandDialogue;
    private final Dimension kind;
    private final Ranges ranges;
    private final boolean inLoop;
    private @Nullable MeterRange range;
    private double cycles;
    private boolean rangeDue;
    private boolean cyclesDue;

    HandMeter(ByHandDialogue byHandDialogue, Dimension kind, Ranges ranges, boolean inLoop) {
      this.byHandDialogue = byHandDialogue;
      this.kind = kind;
      this.ranges = ranges;
      this.inLoop = inLoop;
    }

    @Override
    public List<MeterRange> ranges() {
      return ranges.list();
    }

    @Override
    public void prepare(MeterRange range, double lineCycles) {
      cyclesDue |= lineCycles != cycles;
      cycles = lineCycles;
      boolean other = !range.equals(this.range);
      this.range = range;
      if (other && inLoop) {
        byHandDialogue.loop("Set %s to %s".formatted(byHandDialogue.who(), words(range)));
      } else {
        rangeDue |= other;
      }
    }

    private String words(MeterRange to) {
      return ranges.stated()
          ? "its range " + shown(to.fullScale())
          : "its smallest range that takes " + shown(to.fullScale());
    }

    @Override
    public Reply read() {
      panel();
      double most = (range == null ? ranges.list().get(ranges.list().size() - 1) : range).highest();
      double allowed = ranges.stated() ? most : most * ROOM_ABOVE_GUESS;
      return byHandDialogue.number(
          kind,
          new Plausible(
              -allowed,
              allowed,
              "within %s of zero".formatted(QuantityText.print(allowed, kind, 3))));
    }

    private void panel() {
      List<String> due = new ArrayList<>();
      if (rangeDue && range != null) {
        due.add("to " + words(range));
      }
      if (cyclesDue) {
        due.add(
            "to integrate over %s line cycle%s, or the nearest that it has"
                .formatted(NumberText.print(cycles), cycles == 1 ? "" : "s"));
      }
      rangeDue = false;
      cyclesDue = false;
      if (!due.isEmpty()) {
        byHandDialogue.panel(
            "Set %s %s".formatted(byHandDialogue.who(), String.join(" and ", due)));
      }
    }

    @Override
    public MeterSettings readBack() {
      Map<String, String> settings = new LinkedHashMap<>();
      if (range != null) {
        settings.put("range", shown(range.fullScale()));
      }
      settings.put("cycles", NumberText.print(cycles));
      return MeterSettings.of(settings);
    }

    private String shown(double value) {
      return QuantityText.print(value, kind);
    }
  }

  /** A decade box that is turned. */
  record HandLoad(ByHandDialogue dialogue, boolean canShort) implements Load {
    private static final int DIGITS = 6;

    @Override
    public void set(double resistanceOhm) {
      String ohm =
          resistanceOhm == 0
              ? "0 ohm (every dial at 0)"
              : QuantityText.print(dialled(resistanceOhm), Dimension.RESISTANCE);
      dialogue.loop("Set %s to %s".formatted(dialogue.who(), ohm));
    }

    /** The number of digits of a decade box. */
    private static double dialled(double ohm) {
      return NumberText.parse(NumberText.significant(ohm, DIGITS)).orElse(ohm);
    }

    @Override
    public void shortCircuit(boolean shorted) {
      dialogue.loop(
          shorted
              ? "Short the output with %s".formatted(dialogue.who())
              : "Take the short away from %s".formatted(dialogue.who()));
    }
  }

  /** A chamber that is set at its panel. */
  record HandChamber(ByHandDialogue dialogue) implements Chamber {
    @Override
    public void setpoint(double temperatureDegC, double rampKPerS) {
      String ramp =
          Double.isInfinite(rampKPerS)
              ? ""
              : ", with a ramp of at most "
                  + QuantityText.print(rampKPerS, Dimension.TEMPERATURE_RATE);
      String surfaces = ManualTaskContext.surfaces(OptionalDouble.of(temperatureDegC));
      dialogue.done(
          "Set %s to %s%s%s"
              .formatted(
                  dialogue.who(),
                  QuantityText.print(temperatureDegC, Dimension.TEMPERATURE),
                  ramp,
                  surfaces.isEmpty() ? "" : ", and keep its door shut while it is hot or cold"));
    }

    @Override
    public Reply read() {
      return dialogue.number(
          "what temperature does %s show?".formatted(dialogue.who()),
          Dimension.TEMPERATURE,
          EARTHLY_DEGC);
    }
  }

  /** A range switch that is turned. */
  record HandSelector(ByHandDialogue dialogue, Map<String, String> words, boolean canSwitchOutput)
      implements RangeSelector {
    @Override
    public void select(String range) {
      dialogue.loop(
          "Set %s to the unit's range %s"
              .formatted(dialogue.who(), words.getOrDefault(range, range)));
    }

    @Override
    public void output(boolean on) {
      if (on) {
        dialogue.place().on();
      } else {
        dialogue.place().quiet();
        dialogue.place().stay();
      }
    }
  }

  /** A supply that is set at its panel. */
  static final class HandSupply implements Supply {
    private static final Plausible VOLTS = new Plausible(0, 1000, "a voltage from 0 V to 1 kV");
    private static final Plausible AMPERES = new Plausible(-10, 100, "a current up to 100 A");

    private final ByHandDialogue byHandDialogue;
    private double limitA = Double.POSITIVE_INFINITY;
    private @Nullable Boolean on;

    HandSupply(ByHandDialogue byHandDialogue) {
      this.byHandDialogue = byHandDialogue;
    }

    @Override
    public void limit(double currentA) {
      limitA = currentA;
    }

    @Override
    public void set(double voltageV) {
      String limit =
          Double.isInfinite(limitA)
              ? ""
              : ", and its current limit to " + QuantityText.print(limitA, Dimension.CURRENT);
      byHandDialogue.done(
          "Set %s to %s%s%s"
              .formatted(
                  byHandDialogue.who(),
                  QuantityText.print(voltageV, Dimension.VOLTAGE),
                  ManualTaskContext.hurts(voltageV),
                  limit));
    }

    @Override
    public void output(boolean wanted) {
      if (on == null || on != wanted) {
        byHandDialogue.done(
            wanted
                ? "Take your hands off the unit, then switch the output of %s on"
                    .formatted(byHandDialogue.who())
                : "Switch the output of %s off".formatted(byHandDialogue.who()));
        on = wanted;
      }
    }

    @Override
    public Reply read() {
      return byHandDialogue.number(
          "what voltage does %s show?".formatted(byHandDialogue.who()), Dimension.VOLTAGE, VOLTS);
    }

    @Override
    public Reply readCurrent() {
      return byHandDialogue.number(
          "what current does %s show?".formatted(byHandDialogue.who()), Dimension.CURRENT, AMPERES);
    }
  }

  /** Plugs that are moved. */
  record HandSwitch(ByHandDialogue dialogue, Map<String, String> words) implements Switch {
    @Override
    public void connect(String position) {
      dialogue.loop(
          "Connect position %s at %s"
              .formatted(words.getOrDefault(position, position), dialogue.who()));
    }

    @Override
    public void disconnect() {
      dialogue.loop(
          "Open both leads at %s, so that nothing is connected to the current meter"
              .formatted(dialogue.who()));
    }
  }
}
