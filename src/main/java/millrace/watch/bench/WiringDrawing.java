// SPDX-License-Identifier: Apache-2.0
package millrace.watch.bench;

import static millrace.report.plot.Schematic.at;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.bench.BenchFile;
import millrace.bench.role.RoleName;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.report.plot.Schematic;

/**
 * The wiring of a bench as its file states it: the loop from the unit through the current meter and
 * the load, the place of the voltmeter, and supply, switch and chamber. It shows the stated wiring;
 * only a look at the bench shows the real leads.
 */
final class WiringDrawing {
  private static final double WIDTH = 720;
  private static final double HEIGHT = 292;
  private static final double HIGH = 98;
  private static final double LOW = 208;
  private static final double MIDDLE = (HIGH + LOW) / 2;

  private final BenchFile file;
  private final Schematic drawing;

  private WiringDrawing(BenchFile file) {
    this.file = file;
    this.drawing =
        new Schematic("Wiring of bench '" + file.name() + "'", words(file), WIDTH, HEIGHT);
  }

  /** The drawing of a bench. */
  static Schematic of(BenchFile file) {
    WiringDrawing made = new WiringDrawing(file);
    made.unit();
    made.feeds();
    double from = made.switched();
    made.loop(from);
    made.below();
    return made.drawing;
  }

  private Optional<String> name(RoleName role) {
    return file.instruments().values().stream()
        .filter(e -> e.roles().containsKey(role))
        .map(BenchFile.Entry::name)
        .findFirst();
  }

  /** Whether the voltmeter sits before the current meter. */
  private boolean upstream() {
    return file.wiring().voltmeter().filter(BenchFile.VoltmeterPlace.UPSTREAM::equals).isPresent();
  }

  private void unit() {
    Optional<String> chamber = name(RoleName.CHAMBER);
    chamber.ifPresent(
        c -> drawing.space(at(128, HIGH - 60), 132, LOW - HIGH + 104, "chamber '" + c + "'"));
    String slots =
        file.slots().size() < 2
            ? ""
            : file.slots().size() + " slots: " + String.join(", ", file.slots().keySet());
    drawing.box(at(142, HIGH - 22), 104, LOW - HIGH + 44, "unit under test", slots);
    name(RoleName.UNIT_THERMOMETER)
        .ifPresent(t -> drawing.label(at(194, LOW - 14), 98, "thermometer", "'" + t + "'"));
  }

  private void feeds() {
    name(RoleName.SUPPLY)
        .ifPresent(
            s -> {
              drawing.box(at(6, HIGH - 22), 92, 52, "supply", "'" + s + "'");
              drawing.lead(at(98, HIGH - 6), at(142, HIGH - 6));
              drawing.lead(at(98, HIGH + 14), at(142, HIGH + 14));
            });
    name(RoleName.RANGE_SELECTOR)
        .ifPresent(
            s -> {
              drawing.box(at(6, LOW - 30), 92, 52, "range selector", "'" + s + "'");
              drawing.guard(at(98, LOW - 4), at(142, LOW - 4));
            });
  }

  /** The switch, and the reversing switch behind it; returns where the loop continues. */
  private double switched() {
    double x = 246;
    for (RoleName role : List.of(RoleName.SWITCH, RoleName.REVERSER)) {
      Optional<String> name = name(role);
      if (name.isPresent()) {
        drawing.lead(at(x, HIGH), at(x + 32, HIGH)).lead(at(x, LOW), at(x + 32, LOW));
        String standards =
            role == RoleName.SWITCH && !file.standards().isEmpty()
                ? "; check standards: "
                    + file.standards().keySet().stream().sorted().collect(Collectors.joining(", "))
                : "";
        drawing.box(
            at(x + 32, HIGH - 22),
            84,
            LOW - HIGH + 44,
            role.text(),
            "'" + name.get() + "'" + standards);
        x += 116;
      }
    }
    return x;
  }

  private void loop(double from) {
    double load = WIDTH - 60;
    double meter = upstream() ? (from + 66 + load) / 2 : (from + load - 66) / 2;
    drawing.lead(at(from, HIGH), at(load, HIGH), at(load, LOW), at(from, LOW));
    if (file.wiring().guarded()) {
      drawing.guard(at(from + 6, HIGH - 9), at(meter - 26, HIGH - 9));
      drawing.guard(at(meter + 26, HIGH - 9), at(load - 8, HIGH - 9));
    }
    current(meter);
    drawing.resistance(at(load, MIDDLE), false);
    drawing.label(
        at(load, LOW + 22),
        110,
        "load",
        name(RoleName.LOAD).map(n -> "'" + n + "'").orElse("none stated"));
    name(RoleName.VOLTMETER).ifPresent(v -> voltmeter(upstream() ? from + 40 : load - 66, v));
  }

  private void current(double x) {
    Optional<String> meter = name(RoleName.CURRENT_METER);
    Optional<String> across = name(RoleName.SHUNT_VOLTMETER);
    if (meter.isPresent()) {
      drawing.meter(at(x, HIGH), "A");
      drawing.label(at(x, HIGH - 42), 130, "current meter", "'" + meter.get() + "'");
    } else if (across.isPresent()) {
      drawing.resistance(at(x, HIGH), true);
      drawing.joint(at(x - 36, HIGH)).joint(at(x + 36, HIGH));
      drawing.lead(
          at(x - 36, HIGH), at(x - 36, HIGH - 42), at(x + 36, HIGH - 42), at(x + 36, HIGH));
      drawing.meter(at(x, HIGH - 42), "V");
      drawing.label(at(x, HIGH - 92), 150, "shunt voltmeter", "'" + across.get() + "'");
      drawing.label(
          at(x, HIGH + 26),
          130,
          "shunt",
          file.wiring()
              .shunt()
              .map(s -> QuantityText.print(s.calibratedOhm(), Dimension.RESISTANCE, 6))
              .orElse("not stated"));
    }
  }

  private void voltmeter(double x, String name) {
    drawing.joint(at(x, HIGH)).joint(at(x, LOW)).lead(at(x, HIGH), at(x, LOW));
    drawing.meter(at(x, MIDDLE), "V");
    drawing.label(at(x, LOW + 22), 92, "voltmeter", "'" + name + "'");
  }

  /** The instruments beside the loop. */
  private void below() {
    List<String> beside = new ArrayList<>();
    for (RoleName role :
        List.of(RoleName.LAB_THERMOMETER, RoleName.SHUNT_THERMOMETER, RoleName.HYGROMETER)) {
      name(role).ifPresent(n -> beside.add(role.text() + " '" + n + "'"));
    }
    if (!beside.isEmpty()) {
      drawing.text(
          at(286, HEIGHT - 10), WIDTH - 296, "Beside the loop: " + String.join(", ", beside));
    }
  }

  /** The voltage that the voltmeter measures, and the other statements of the file on the leads. */
  static String words(BenchFile file) {
    List<String> words = new ArrayList<>();
    words.add(voltmeter(file));
    words.add("the high lead is " + (file.wiring().guarded() ? "guarded (dashes)" : "not guarded"));
    if (file.wiring().leadsOhm() > 0) {
      words.add(
          "leads in the loop "
              + QuantityText.print(file.wiring().leadsOhm(), Dimension.RESISTANCE, 4));
    }
    file.wiring()
        .insulationOhm()
        .ifPresent(
            r ->
                words.add(
                    "insulation to ground " + QuantityText.print(r, Dimension.RESISTANCE, 4)));
    return String.join("; ", words) + ".";
  }

  private static String voltmeter(BenchFile file) {
    if (file.in(RoleName.VOLTMETER).isEmpty()) {
      return "No voltmeter is stated: voltages come from currents and the loads' values";
    }
    return file.wiring().voltmeter().filter(BenchFile.VoltmeterPlace.UPSTREAM::equals).isPresent()
        ? "The voltmeter sits at the unit's terminals, before the current meter: it sees all that"
            + " the unit drives, and the current that it takes itself is not measured"
        : "The voltmeter sits across the load, behind the current meter: the current that it takes"
            + " itself is measured with the rest, and it does not see what leads and current meter"
            + " drop";
  }
}
