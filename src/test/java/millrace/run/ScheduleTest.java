// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import millrace.bench.BenchForms;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.run.soak.BenchSpeedsFromFile;
import millrace.sequence.BenchSpeeds;
import millrace.sequence.ChangeCount;
import millrace.sequence.Plan;
import millrace.sequence.Schedule;
import millrace.sequence.SequenceExpansion;
import millrace.sequence.SequenceForms;
import millrace.sequence.TemperatureOrderComparison;
import millrace.sequence.TemperatureOrderComparison.Order;
import millrace.sequence.UsualBenchSpeeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a plan is estimated to take; figures by hand from the rules of the sequence. */
class ScheduleTest {
  private static final Datasheet FX_3 =
      DatasheetFile.read(Path.of("examples", "fx-3.datasheet.yaml"));

  private static final BenchSpeeds ANY = UsualBenchSpeeds.of(50, Double.POSITIVE_INFINITY);

  @TempDir private Path folder;

  private Plan plan(String steps) throws IOException {
    Path file = Files.writeString(folder.resolve("s.yaml"), "sequence: s\nsteps:\n" + steps);
    return SequenceExpansion.expand(SequenceForms.read(file).sequence(), FX_3, List.of());
  }

  private Schedule schedule(String steps) throws IOException {
    return Schedule.of(plan(steps), FX_3, ANY);
  }

  @Test
  void readingsOfTheVoltageCountOnceEachAndTheMetersOwnZerosToo() throws IOException {
    String loads = "  - {in ranges: 1mA, do: {over loads: {voltage: 1 V}, sweep: up, %s}}\n";
    double both = schedule(loads.formatted("readings: {count: 10}")).partsS().get("integrate");
    double few =
        schedule(loads.formatted("readings: {count: 10, voltage: 2}")).partsS().get("integrate");
    assertEquals(20 * (2 * 0.2 + 0.01), both, 1e-9);
    assertEquals(12 * (2 * 0.2 + 0.01), few, 1e-9);
  }

  @Test
  void whatIsDoneWhileItSoaksTakesNoTimeOfItsOwn() throws IOException {
    String work = "{in ranges: all, do: [zero, find the knee]}";
    String sweep =
        """
          - at temperatures: [50 degC, 23 degC]
            soak: {within: 1 ppm}
        %s    do: {in ranges: 1mA, do: measure}
        """;
    Schedule alone = schedule(sweep.formatted(""));
    Schedule both = schedule(sweep.formatted("    while it soaks: " + work + "\n"));
    assertEquals(alone.total().toSeconds(), both.total().toSeconds(), 2);
  }

  @Test
  void aPointAtTheLoadOfTheOneBeforeDoesNotSettle() throws IOException {
    String loads = "  - {in ranges: 1mA, do: {over loads: {voltage: [0 V, 5 V]}}}\n";
    assertEquals(3 * 1.1, schedule(loads).partsS().get("settle"), 1e-9);
  }

  /**
   * Two loads; where nothing is known of the scatter, 2e - 2 readings are expected until they turn
   * round.
   */
  @Test
  void settlingUntilReadingsAgreeCounts() throws IOException {
    String loads =
        "  - {in ranges: 1mA, do: {over loads: {voltage: [0 V, 5 V]}, sweep: up,"
            + " readings: {line cycles: 1}, settle: {wait: 0 s, within: 5 ppm, at most: %s}}}\n";
    double reading = 2 * 0.02 + 0.01;
    assertEquals(
        2 * (0.1 + (2 * Math.E - 2) * reading),
        schedule(loads.formatted("5 s")).partsS().get("settle"),
        1e-9);
    assertEquals(
        2 * (0.1 + 0.1 + reading), schedule(loads.formatted("0.1 s")).partsS().get("settle"), 1e-9);
  }

  /** The more readings scatter, the longer they take until two agree. */
  @Test
  void settlingTakesLongerWhereTheBenchStatesMoreNoise() throws IOException {
    String loads =
        "  - {in ranges: 1mA, do: {over loads: {voltage: [0 V, 5 V]}, sweep: up,"
            + " settle: {wait: 0 s, within: 5 ppm}}}\n";
    double quiet = settleS(loads, "0.1 ppm");
    double loud = settleS(loads, "20 ppm");
    assertTrue(loud > 1.5 * quiet, loud + " " + quiet);
  }

  private double settleS(String steps, String noise) throws IOException {
    String bench =
        """
        bench: b
        instruments:
          meter:
            driver: scpi meter
            address: tcp 127.0.0.1:5025
            roles:
              current meter:
                accuracy:
                  - {range: 2 mA, reading: 25 ppm, noise: %s}
                  - {range: 20 mA, reading: 25 ppm, noise: 1 %%}
        """
            .formatted(noise);
    BenchSpeeds speeds = BenchSpeedsFromFile.of(BenchForms.read("b.yaml", bench.getBytes(UTF_8)));
    return Schedule.of(plan(steps), FX_3, speeds).partsS().get("settle");
  }

  /** From 23 degC; 2 K/min are usual where nobody says anything. */
  @Test
  void aChamberGoesAsFastAsTheBenchAllowsWhereTheSequenceSaysNothing() throws IOException {
    String up = "  - {at temperatures: 50 degC, %s do: {in ranges: 1mA, do: measure}}\n";
    assertEquals(27 * 60, movesS(up.formatted(""), UsualBenchSpeeds.of(50, 1.0 / 60)), 1e-6);
    assertEquals(9 * 60, movesS(up.formatted(""), UsualBenchSpeeds.of(50, 3.0 / 60)), 1e-6);
    assertEquals(
        27 * 60, movesS(up.formatted("ramp: 1 K/min,"), UsualBenchSpeeds.of(50, 3.0 / 60)), 1e-6);
    assertEquals(27 * 30, movesS(up.formatted(""), ANY), 1e-6);
  }

  private double movesS(String steps, BenchSpeeds benchSpeeds) throws IOException {
    return Schedule.of(plan(steps), FX_3, benchSpeeds).partsS().get("move");
  }

  @Test
  void theBenchSaysHowFastItsChamberGoes() {
    String bench =
        """
        bench: b
        instruments:
          oven:
            driver: plain chamber
            address: tcp 127.0.0.1:5025
            roles: {chamber: {between: [0 degC, 70 degC]%s}}
        %s\
        """;
    assertEquals(Double.POSITIVE_INFINITY, mostKPerMin(bench.formatted("", "")));
    assertEquals(3, mostKPerMin(bench.formatted(", ramp at most: 3 K/min", "")), 1e-9);
    String interlock = "interlocks: {chamber rate: 5 K/min}\n";
    assertEquals(2.5, mostKPerMin(bench.formatted(", ramp at most: 3 K/min", interlock)), 1e-9);
  }

  private static double mostKPerMin(String bench) {
    return 60
        * BenchSpeedsFromFile.of(BenchForms.read("b.yaml", bench.getBytes(UTF_8))).mostKPerS();
  }

  @Test
  void ordersAreComparedAndTheHotLegStaysFirst() throws IOException {
    String order = "  - at temperatures: [%s]\n    do: {in ranges: 1mA, do: measure}\n";
    Plan detour = plan(order.formatted("23 degC, 35 degC, 23 degC, 50 degC, 5 degC, 23 degC"));
    List<Order> orders = TemperatureOrderComparison.of(detour, FX_3, ANY);
    assertEquals(detour.stays(), orders.get(0).temperatureDegC());
    Order best = orders.get(1);
    assertTrue(best.seconds() < orders.get(0).seconds(), best.toString());
    assertTrue(best.temperatureDegC().indexOf(50.0) < best.temperatureDegC().indexOf(5.0));
    assertEquals(23, best.temperatureDegC().get(0));
    assertEquals(23, best.temperatureDegC().get(5));
    assertEquals(List.of(5.0, 23.0, 35.0, 50.0), orders.get(2).temperatureDegC());
    assertEquals(
        List.of(),
        TemperatureOrderComparison.of(plan(order.formatted("23 degC, 50 degC")), FX_3, ANY));
  }

  @Test
  void changesAreCountedBesideTheFewestThatDoTheSame() throws IOException {
    String zeroThenLoads =
        """
          - at temperatures: [23 degC, 40 degC]
            do:
              - {in ranges: [1mA, 100uA], do: [zero]}
              - in ranges: [1mA, 100uA]
                do: {over loads: {voltage: [1 V, 2 V]}}
        """;
    // twice 1mA 100uA 1mA 100uA by hand; in one go 1mA 100uA, then 100uA 1mA
    assertEquals(new ChangeCount(1, 0, 7, 2), ChangeCount.of(plan(zeroThenLoads)));
    String together =
        """
          - at temperatures: [23 degC, 40 degC]
            do:
              - in ranges: [1mA, 100uA]
                do: [zero, {over loads: {voltage: [1 V, 2 V]}}]
        """;
    assertEquals(new ChangeCount(1, 0, 3, 2), ChangeCount.of(plan(together)));
    assertEquals(new ChangeCount(0, 0, 0, 0), ChangeCount.of(plan("  - {wait: 1 min}\n")));
  }
}
