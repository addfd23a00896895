// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.bench.driver.Drivers;
import millrace.cli.draft.SchemaCommand;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.datasheet.DatasheetPart;
import millrace.evidence.PointKind;
import millrace.fault.InputFaultList;
import millrace.quantity.NumberText;
import millrace.sequence.Plan;
import millrace.sequence.SequenceExpansion;
import millrace.sequence.SequenceForms;
import millrace.sim.truth.SimulatedUnitSpec;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every file that is shipped is read, holds to its schema, and fits the others. */
class ShippedFilesTest {
  private static final Path DATASHEET = Path.of("examples/fx-3.datasheet.yaml");
  private static final Datasheet FX_3 = DatasheetFile.read(DATASHEET);

  static List<Path> sequences() throws IOException {
    return files("sequences", ".yaml");
  }

  static List<Path> benches() throws IOException {
    return files("examples", ".bench.yaml");
  }

  static List<Path> drivers() throws IOException {
    return files("drivers", ".yaml");
  }

  private static List<Path> files(String folder, String ending) throws IOException {
    try (Stream<Path> all = Files.walk(Path.of(folder))) {
      List<Path> found = all.filter(p -> p.toString().endsWith(ending)).sorted().toList();
      assertTrue(found.size() > 1, "only " + found + " found in " + folder);
      return found;
    }
  }

  private static Plan plan(String name, List<String> slots) {
    Path path = Path.of("sequences", name + ".yaml");
    return SequenceExpansion.expand(SequenceForms.read(path).sequence(), FX_3, slots);
  }

  @ParameterizedTest
  @MethodSource("sequences")
  void aSequenceIsReadAndExpandsForOneUnitAndForTwo(Path file) {
    var sequence = SequenceForms.read(file).sequence();
    Plan one = SequenceExpansion.expand(sequence, FX_3, List.of());
    Set<String> keys = new LinkedHashSet<>();
    one.points().forEach(p -> keys.add(p.key()));
    assertEquals(one.points().size(), keys.size(), "keys are unique");
    assertTrue(one.points().stream().anyMatch(p -> p.task().kind().isPresent()));
    if (!file.toString().contains("parts")) {
      Plan two = SequenceExpansion.expand(sequence, FX_3, List.of("left", "right"));
      assertTrue(two.points().size() > one.points().size(), "each slot is measured");
    }
  }

  @ParameterizedTest
  @MethodSource("sequences")
  void aSequenceHoldsToItsSchema(Path file) {
    assertEquals(List.of(), Schemas.complaints(SchemaCommand.Kind.sequence, Schemas.yaml(file)));
  }

  @ParameterizedTest
  @MethodSource("benches")
  void aBenchIsReadHoldsToItsSchemaAndFindsItsDrivers(Path file) {
    BenchFile bench = BenchForms.read(file);
    Drivers drivers = Drivers.load(Path.of("drivers"));
    InputFaultList faults = new InputFaultList();
    bench
        .instruments()
        .values()
        .forEach(
            e -> {
              drivers.check(e.driver(), e.place(), faults);
              drivers.checkSettings(e.driver(), e.settings(), e.place(), faults);
            });
    faults.throwIfAny();
    assertEquals(List.of(), Schemas.complaints(SchemaCommand.Kind.bench, Schemas.yaml(file)));
  }

  @ParameterizedTest
  @MethodSource("drivers")
  void aDriverHoldsToItsSchema(Path file) {
    assertEquals(List.of(), Schemas.complaints(SchemaCommand.Kind.driver, Schemas.yaml(file)));
  }

  @Test
  void theDatasheetHoldsToItsSchema() {
    assertEquals(
        List.of(), Schemas.complaints(SchemaCommand.Kind.datasheet, Schemas.yaml(DATASHEET)));
  }

  @Test
  void theDatasheetNamesThePartsThatTheSimulatedUnitIsMadeOf() {
    SimulatedUnitSpec unit = SimulatedUnitSpec.demo();
    assertEquals(
        unit.ranges().stream().map(SimulatedUnitSpec.Range::name).toList(),
        List.copyOf(FX_3.ranges().keySet()));
    for (SimulatedUnitSpec.Range range : notEmpty(unit.ranges())) {
      Datasheet.Range promised = FX_3.range(range.name()).orElseThrow();
      Datasheet.MadeFrom made = promised.madeFrom().orElseThrow();
      assertEquals(range.nominalA(), promised.nominalA());
      assertEquals(range.setV(), made.setVoltageV().orElseThrow());
      assertEquals(range.resistor().name(), made.resistor());
      assertEquals(resistor(range), FX_3.parts().get(made.resistor()));
      assertEquals(reference(range), FX_3.parts().get(made.reference()));
      assertEquals(
          new DatasheetPart.Supply(range.supply().volts()),
          FX_3.parts().get(made.supply().orElseThrow()));
    }
  }

  private static DatasheetPart resistor(SimulatedUnitSpec.Range range) {
    var r = range.resistor();
    return new DatasheetPart.Resistor(
        Math.rint(r.ohm() * 1e3) / 1e3,
        r.tolerance(),
        r.tempcoPerK(),
        Optional.empty(),
        r.network().map(n -> n.name()),
        r.network().map(n -> n.trackingTolerance()),
        r.network().map(n -> n.trackingTempcoPerK()));
  }

  private static DatasheetPart reference(SimulatedUnitSpec.Range range) {
    var r = range.reference();
    return new DatasheetPart.Reference(
        range.setV(), r.tolerance(), r.tempcoPerK(), Optional.empty());
  }

  @Test
  void theNightGoesThroughSixTemperaturesHotFirstAndEndsInTheWarm() {
    Plan plan = plan("overnight-characterization", List.of());
    assertEquals(List.of(23.0, 35.0, 50.0, 23.0, 5.0, 23.0), plan.stays());
    assertEquals(PointKind.TRIAL, plan.points().get(0).task().kind().orElseThrow());
    // 6 temperatures x 5 ranges x (11 loads up and down + zero + knee), the trial lap, a record of
    // each range, and the check standards before, at each temperature and after
    assertEquals(6 * 5 * (2 * 11 + 2) + 1 + 5 + 8, plan.points().size());
  }

  @Test
  void twoUnitsInOneChamberShareItsMoves() {
    Plan plan = plan("overnight-characterization", List.of("left", "right"));
    assertEquals(List.of(23.0, 35.0, 50.0, 23.0, 5.0, 23.0), plan.stays());
    assertEquals(2 * (6 * 5 * 24 + 1 + 5) + 8, plan.points().size());
  }

  @Test
  void importedReadingsOfTheExampleHaveWhatAnImportNeeds() throws IOException {
    List<String> lines = Files.readAllLines(Path.of("examples/fx-3-by-hand.csv"));
    List<String> header = List.of(lines.get(0).split(","));
    assertTrue(header.containsAll(List.of("range", "nominal_A", "current_A")), header.toString());
    int current = header.indexOf("current_A");
    int range = header.indexOf("range");
    for (String line : notEmpty(lines.subList(1, lines.size()))) {
      String[] cells = line.split(",", -1);
      assertEquals(header.size(), cells.length, line);
      double nominalA = FX_3.range(cells[range]).orElseThrow().nominalA();
      double currentA = NumberText.parse(cells[current]).orElseThrow();
      assertEquals(1, currentA / nominalA, 2e-3, line);
    }
  }
}
