// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.bench.driver.Drivers;
import millrace.evidence.part.PartQuantity;
import millrace.logbook.Logbook;
import millrace.logbook.RunStart;
import millrace.night.BenchSession;
import millrace.night.Night;
import millrace.night.OperatorAttendance;
import millrace.night.RunInputs;
import millrace.night.SimulatedBenchSession;
import millrace.night.SimulatedUnitFromDatasheet;
import millrace.night.UnitUnderTest;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.run.control.StopRequest;
import millrace.sim.fault.FaultPlan;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnit;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.sim.truth.TruePartValues;
import millrace.time.VirtualClock;

/**
 * A unit with one fault on a simulated bench, measured, planned for and measured again, with a
 * person who measures parts as they truly are.
 */
final class ConfusedCauses {
  private static final Instant MORNING = Instant.parse("2026-05-04T06:00:00Z");
  private static final long DAY_S = 86_400;
  private static final String UNIT = "FX3-00042";

  private final Path folder;
  private final String first;
  private final Path sheet;
  private final Fault fault;
  private final long seed;
  private long runs;

  /** What came of it. */
  record Told(JsonNode before, JsonNode after, String sequence) {}

  /** The same without a fault of the bench, of the shipped datasheet. */
  ConfusedCauses(Path folder, String first, List<SimulatedUnitSpec.Defect> defects, long seed) {
    this(folder, Path.of("examples/fx-3.datasheet.yaml"), first, new Fault(defects, 0), seed);
  }

  /** What is wrong: with parts of the unit, or with the gain of the meter, a ratio. */
  record Fault(List<SimulatedUnitSpec.Defect> unit, double meterGain) {}

  ConfusedCauses(Path folder, Path sheet, String first, Fault fault, long seed) {
    this.folder = folder;
    this.sheet = sheet;
    this.first = first;
    this.fault = fault;
    this.seed = seed;
  }

  /** The true gain of the meter is drawn between both ends. */
  private SimulatedBenchSpec bench() {
    SimulatedBenchSpec demo = SimulatedBenchSpec.demo();
    SimulatedBenchSpec.MeterSpec own = demo.ammeter();
    return fault.meterGain() == 0
        ? demo
        : demo.with(
            new SimulatedBenchSpec.MeterSpec(
                own.fullScales(),
                fault.meterGain(),
                own.ofRange(),
                own.transfer(),
                own.resistanceOhm(),
                own.resistance(),
                own.noiseOfRange(),
                own.resolution(),
                own.driftPerDay()));
  }

  private Path book() {
    return folder.resolve("causes.db");
  }

  Told told() throws IOException {
    Path plan = folder.resolve("cause.yaml");
    run(Files.writeString(folder.resolve("first.yaml"), first));
    JsonNode before = planned("1", "-o", plan.toString());
    if (!Files.exists(plan)) {
      return new Told(before, before, "");
    }
    run(plan);
    return new Told(before, planned("1", "2"), Files.readString(plan));
  }

  private JsonNode planned(String... words) throws IOException {
    List<String> all = new ArrayList<>(List.of("plan", "cause"));
    all.addAll(List.of(words));
    all.addAll(List.of("--json", "--logbook", book().toString()));
    Spoken spoken = Spoken.by(all.toArray(String[]::new));
    if (spoken.code() != 0 && spoken.code() != 7) {
      throw new IllegalStateException(spoken.err());
    }
    return new ObjectMapper().readTree(spoken.out());
  }

  private void run(Path sequence) {
    RunInputs inputs = RunInputs.read(sequence, sheet);
    SimulatedUnitSpec good = SimulatedUnitFromDatasheet.of(inputs.datasheet());
    SimulatedUnitSpec bad =
        new SimulatedUnitSpec(
            good.ranges(),
            good.warmth(),
            good.noise(),
            good.kneeSoftnessV(),
            good.supplyPerV(),
            fault.unit());
    SimulatedBenchSession.Kinds kinds =
        new SimulatedBenchSession.Kinds(bench(), bad, FaultPlan.NONE);
    VirtualClock clock = new VirtualClock(MORNING.plusSeconds(DAY_S * runs++));
    try (Logbook logbook = Logbook.openOrCreate(book());
        BenchSession setting =
            BenchSession.of(
                SimulatedBenchSession.start(seed, clock, kinds),
                Drivers.load(Path.of("drivers")))) {
      Person person = new Person(setting.simulation().orElseThrow().unit());
      person.read(sequence);
      OperatorAttendance there =
          new OperatorAttendance(
              RunStart.People.NONE,
              person::answer,
              List.of(),
              new StopRequest(run -> "Go on with: millrace run --resume " + run),
              List.of());
      new Night(inputs, setting, logbook, there).begin(UnitUnderTest.of(UNIT));
    }
  }

  /** Answers the questions of a sequence in their order. */
  private static final class Person {
    private static final Pattern ANSWER =
        Pattern.compile(
            "answer: \\{quantity: ([a-z ]+), of: '([^']+)', u: [^,}]+"
                + "(?:, terminal voltage: ([^}]+))?}|at temperatures: \\[([^]]+)]");

    private final TruePartValues unit;
    private final List<String> answers = new ArrayList<>();

    Person(SimulatedUnit unit) {
      this.unit = new TruePartValues(unit);
    }

    void read(Path sequence) {
      double degC = 23;
      Matcher found;
      try {
        found = ANSWER.matcher(Files.readString(sequence, StandardCharsets.UTF_8));
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
      while (found.find()) {
        if (found.group(4) != null) {
          degC = Double.parseDouble(found.group(4).split(" ")[0]);
        } else {
          PartQuantity quantity = PartQuantity.byText(found.group(1)).orElseThrow();
          double volts =
              Optional.ofNullable(found.group(3))
                  .map(v -> QuantityText.parse(v, Dimension.VOLTAGE))
                  .orElse(0.0);
          double value = unit.of(quantity, found.group(2), degC, volts);
          answers.add("one moment"); // no value: the question is put again
          answers.add(QuantityText.print(value, quantity.dimension()));
        }
      }
    }

    String answer(String question) {
      return answers.isEmpty() ? "yes" : answers.remove(0);
    }
  }
}
