// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.re2j.Matcher;
import com.google.re2j.Pattern;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointState;
import millrace.logbook.Logbook;
import millrace.sim.fault.FaultPlan;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Whole runs in which a person does everything, who does to the letter what is asked: what is
 * touched must be dead, what is read must be live.
 */
class ByHandRunIT {
  private static final String SHEET =
      """
      datasheet: high
      reference temperature: 23 degC
      open-circuit voltage: 110 V
      compliance: {voltage: 90 V, criterion: 0.1 %}
      ranges:
        1uA: {nominal: 1 uA}
        1mA: {nominal: 1 mA}
      """;
  private static final String SEQUENCE =
      """
      sequence: by hand
      readings: {count: 2, line cycles: 10}
      settle: {wait: 100 ms}
      steps:
        - in ranges: [1uA, 1mA]
          do:
            - zero
            - over loads: {share of compliance: [0 %, 12 %]}
              sweep: up
            - source off
      """;
  private static final String HOT =
      """
      sequence: hot by hand
      readings: {count: 2, line cycles: 10}
      settle: {wait: 100 ms}
      steps:
        - at temperatures: [85 degC]
          soak: {at least: 1 s, at most: 1 s, look every: 1 s, if it takes longer: go on flagged}
          do:
            - in ranges: [1mA]
              do:
                - zero
                - over loads: {share of compliance: [0 %, 12 %]}
                  sweep: up
      """;

  @TempDir private Path folder;

  private final Pretender person = new Pretender();

  /** Does what is asked on a bench that is not there, and minds what state it is in. */
  private static final class Pretender {
    private static final Pattern STEP = Pattern.compile("^ +[0-9]+\\. (.*)$");
    private static final Pattern LOAD = Pattern.compile("^Set load 'box' to ([0-9.]+) (\\w+)");

    private final List<String> asked = new ArrayList<>();
    private final List<String> wrong = new ArrayList<>();
    private boolean on = true;
    private boolean leadOff;
    private double ohm = Double.NaN;
    private double nominalA = Double.NaN;
    private int reading;

    String answer(String question) {
      asked.add(question.strip());
      if (question.contains("Type 'yes' to go on")) {
        return "yes";
      }
      if (question.contains("Make the bench safe now.")) {
        on = false;
        return "";
      }
      question.lines().forEach(this::step);
      return question.contains(" show? ") ? shown(question) : "";
    }

    private void step(String line) {
      Matcher step = STEP.matcher(line);
      if (!step.find()) {
        return;
      }
      String task = step.group(1);
      if (task.startsWith("Switch the source off")) {
        on = false;
      } else if (task.startsWith("Take your hands off, then switch the source on")) {
        on = true;
      } else if (task.startsWith("Make sure that the source is still off")) {
        check(!on, "is said to be off still: " + line);
      } else if (!task.startsWith("Leave the source off")) {
        check(!on, "is touched while it is live: " + line);
        touched(task);
      }
    }

    private void touched(String task) {
      Matcher load = LOAD.matcher(task);
      if (load.find()) {
        double factor = List.of("ohm", "kohm", "Mohm").indexOf(load.group(2));
        ohm = Double.parseDouble(load.group(1)) * Math.pow(1000, factor);
      } else if (task.endsWith("the unit's range 1uA.")) {
        nominalA = 1e-6;
      } else if (task.endsWith("the unit's range 1mA.")) {
        nominalA = 1e-3;
      } else if (task.startsWith("Set the source to ")) {
        nominalA = Double.parseDouble(task.replaceAll("[^0-9.]| uA.*$", "")) * 1e-6;
      } else if (task.startsWith("Take off the lead")) {
        leadOff = true;
      } else if (task.startsWith("Put the lead back")) {
        leadOff = false;
      } else {
        check(task.startsWith("Set current meter 'dmm' to its range "), "is not known: " + task);
      }
    }

    private String shown(String question) {
      reading++;
      boolean live = on && !leadOff;
      boolean wanted = !question.contains("(zero,") && !question.contains("(source off,");
      if (question.contains("current meter 'dmm'")) {
        check(live == wanted, "is read " + (live ? "live: " : "dead: ") + question);
        double noise = (reading % 2) * 1e-6 * nominalA;
        return String.format(Locale.ROOT, "%.7e A", live ? nominalA + noise : 1e-13);
      } else if (question.contains("voltmeter 'volts'")) {
        return String.format(Locale.ROOT, "%.7e V", live ? nominalA * ohm : 0);
      }
      return question.contains("chamber 'oven'") ? "85.0 degC" : "0.1 A";
    }

    private void check(boolean good, String what) {
      if (!good) {
        wrong.add(what);
      }
    }
  }

  private Spoken ran(String steps, String bench) throws IOException {
    return Spoken.attended(person::answer, words(steps, SHEET, bench));
  }

  private String[] words(String steps, String sheet, String bench) throws IOException {
    return new String[] {
      "run",
      Files.writeString(folder.resolve("s.yaml"), steps).toString(),
      "--datasheet",
      Files.writeString(folder.resolve("d.yaml"), sheet).toString(),
      "--bench",
      Files.writeString(folder.resolve("b.yaml"), bench).toString(),
      "--unit",
      "FX3-00042",
      "--speed",
      "20",
      "--logbook",
      folder.resolve("hand.db").toString()
    };
  }

  private static final String BENCH =
      """
      bench: kitchen table
      simulated: yes
      instruments:
        dmm:
          driver: by hand
          address: by hand
          settings: {ranges: '100 uA, 10 mA'}
          roles: {current meter: {input at most: 300 V}}
        volts:
          driver: by hand
          address: by hand
          settings: {ranges: '20 V, 200 V'}
          roles: {voltmeter: {input at most: 300 V}}
        box: {driver: by hand, address: by hand, roles: {load: {}}}
        sel: {driver: by hand, address: by hand, roles: {range selector: {}}}
        oven:
          driver: by hand
          address: by hand
          roles: {chamber: {between: [0 degC, 100 degC], ramp at most: 3 K/min}}
      wiring: {voltmeter: across load}
      interlocks: {free disk: 1 MB}
      """;

  private void allIsTakenAndNothingTouchedLive(Spoken said) {
    assertEquals(List.of(), person.wrong, String.join("\n", person.asked));
    assertTrue(Files.exists(folder.resolve("hand.db")), said.err());
    try (Logbook book = Logbook.readOnly(folder.resolve("hand.db"))) {
      assertTrue(
          notEmpty(book.reader(1).points()).stream()
              .noneMatch(p -> p.state() == PointState.SKIPPED),
          said.err());
    }
  }

  /** The whole conversation, to be read aloud. */
  @Test
  void nothingIsTouchedLiveAndNothingReadDead() throws IOException {
    allIsTakenAndNothingTouchedLive(ran(SEQUENCE, BENCH));
    String dialogue = String.join("\n\n", person.asked) + "\n";
    Path kept = Path.of("src/test/resources/millrace/cli/by-hand.dialogue.txt");
    if (Boolean.getBoolean("mend")) {
      Files.writeString(kept, dialogue);
    }
    assertEquals(Files.readString(kept, StandardCharsets.UTF_8), dialogue);
  }

  /** The dial of the unit is turned with the source off, and each point has what it was set to. */
  @Test
  void aPersonSetsASettableSource() throws IOException {
    String steps =
        """
        sequence: settable
        readings: {count: 2, line cycles: 10}
        settle: {wait: 100 ms}
        steps:
          - in ranges: [1mA]
            do:
              - at set currents: [200 uA, 600 uA, 900 uA]
                do:
                  - over loads: {share of compliance: [0 %, 12 %]}
                    sweep: up
        """;
    allIsTakenAndNothingTouchedLive(ran(steps, BENCH));
    assertEquals(
        3,
        person.asked.stream().filter(q -> q.contains("Set the source to ")).count(),
        String.join("\n", person.asked));
    try (Logbook book = Logbook.readOnly(folder.resolve("hand.db"))) {
      List<Double> read =
          book.reader(1).points().stream()
              .flatMap(p -> book.reader(1).readings(p.id()).stream())
              .filter(r -> r.signal() == MeasuredSignal.CURRENT)
              .map(r -> Math.rint(r.value().orElseThrow() * 1e6))
              .distinct()
              .toList();
      assertEquals(List.of(200.0, 600.0, 900.0), read);
    }
  }

  @Test
  void aSimulatedUnitIsRefusedToBeSet() throws IOException {
    String steps =
        "sequence: settable\n"
            + "steps:\n"
            + "  - in ranges: [1mA]\n"
            + "    do:\n"
            + "      - at set currents: 200 uA\n"
            + "        do: measure\n";
    Spoken said =
        Spoken.by(
            "run",
            Files.writeString(folder.resolve("s.yaml"), steps).toString(),
            "--datasheet",
            "examples/fx-3.datasheet.yaml",
            "--simulated",
            "--unit",
            "FX3-00042",
            "--logbook",
            folder.resolve("no.db").toString());
    assertEquals(2, said.code());
    assertTrue(said.err().contains("which a simulated unit cannot be set to"), said.err());
  }

  @Test
  void hotSurfacesAreCautionedOf() throws IOException {
    allIsTakenAndNothingTouchedLive(ran(HOT, BENCH));
    assertEquals(
        "On the way to 85 degC: Set chamber 'oven' to 85 degC, with a ramp of at most 3 K/min, and"
            + " keep its door shut while it is hot or cold. Press Enter when it is done, or type"
            + " 'no' if it cannot be done.",
        person.asked.get(1));
    List<String> steps = person.asked.stream().filter(q -> q.contains("1. ")).toList();
    assertTrue(
        notEmpty(steps).stream().allMatch(q -> q.contains("at 85 degC: hot surfaces burn")),
        String.join("\n", person.asked));
  }

  /** A supply and a switch by hand as well, and a load that nobody reads a voltage at. */
  @Test
  void aSupplyByHandIsSetWithItsLimitAndACaution() throws IOException {
    String fed =
        BENCH.replace(
            "wiring:",
            """
              psu:
                driver: by hand
                address: by hand
                roles: {supply: {at most: {voltage: 150 V, current: 100 mA}}}
            wiring:\
            """);
    int at = SEQUENCE.indexOf("  - in");
    String steps =
        SEQUENCE.substring(0, at)
            + "  - at supply voltages: [150 V]\n    do:\n"
            + SEQUENCE.substring(at).indent(4);
    allIsTakenAndNothingTouchedLive(ran(steps, fed));
    assertTrue(
        person.asked.stream()
            .anyMatch(
                q ->
                    q.contains(
                        "Set supply 'psu' to 150 V, which can injure or kill, and its current limit"
                            + " to 100 mA.")),
        String.join("\n", person.asked));
  }

  /** What an instrument has switched off comes on again without anybody's hand. */
  @Test
  void whereASelectorSwitchesTheSourceThePersonIsToldSo() throws IOException {
    List<String> asked = new ArrayList<>();
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      int port = served.bench().ports().get("load");
      served.rewrite(
          "driver: plain decade load\n    address: tcp 127.0.0.1:" + port,
          "driver: by hand\n    address: by hand");
      String bench = Files.readString(Path.of(served.file()));
      String sheet = Files.readString(Path.of("examples/fx-3.datasheet.yaml"));
      String steps =
          """
          sequence: mixed
          readings: {count: 2, line cycles: 1}
          steps:
            - in ranges: [1mA]
              do:
                - over loads: {share of compliance: [0 %, 50 %]}
                  sweep: up
          """;
      Spoken said =
          Spoken.attended(
              question -> {
                asked.add(question.strip());
                return "";
              },
              words(steps, sheet, bench));
      assertEquals(3, asked.size(), said.err());
    }
    assertEquals(
        """
        Point 2 of 2 (range 1mA, load 6.75 kohm):
            1. Range selector 'selector' has switched the source off: make sure of that before you touch anything. While it is on, up to 60 V DC stand at its terminals.
            2. Set load 'load' to 6.75 kohm.
            3. Take your hands off: the source comes on when you press Enter.
          Press Enter when it is done, or type 'no' if it cannot be done.\
        """,
        asked.get(1));
  }
}
