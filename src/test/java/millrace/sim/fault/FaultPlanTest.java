// SPDX-License-Identifier: Apache-2.0
package millrace.sim.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.stream.Collectors;
import millrace.fault.BadInputException;
import millrace.sim.fault.SimFault.AtQuestion;
import millrace.sim.fault.SimFault.AtTime;
import millrace.sim.fault.SimFault.Kind;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Plans of faults, drawn, listed and read from a file. */
class FaultPlanTest {

  private static FaultPlan read(String text) {
    return FaultPlanFile.FORM.readFile("faults.yaml", text.getBytes(StandardCharsets.UTF_8));
  }

  @Test
  void aFileSaysWhatGoesWrongAndWhen() {
    FaultPlan plan =
        read(
            """
            faults:
              - {kind: silence, on: ammeter, question: 12}
              - {kind: late reply, on: voltmeter, after: 20 min, pause: 3 s, times: 2}
              - {kind: sensor offset, on: thermometer, after: 2 h, by: -1.5 K, lasting: 30 min}
              - {kind: chamber stuck, after: 1 h}
            """);
    assertEquals(
        List.of(
            new SimFault(Kind.SILENCE, "ammeter", new AtQuestion(12), 1, 1, Duration.ZERO),
            new SimFault(
                Kind.LATE_REPLY,
                "voltmeter",
                new AtTime(Duration.ofMinutes(20)),
                2,
                3,
                Duration.ZERO),
            new SimFault(
                Kind.SENSOR_OFFSET,
                "thermometer",
                new AtTime(Duration.ofHours(2)),
                1,
                -1.5,
                Duration.ofMinutes(30)),
            SimFault.of(Kind.CHAMBER_STUCK, "chamber", new AtTime(Duration.ofHours(1)))),
        plan.faults());
  }

  @Test
  void theExampleIsReadAndHoldsListedAndDrawnFaults() {
    FaultPlan plan = FaultPlanFile.read(Path.of("examples", "restless.faults.yaml"));
    assertEquals(11, plan.faults().size());
    assertEquals(2, plan.faults().get(1).size(), "a pause of two seconds");
  }

  @Test
  void aFileCanAskForFaultsToBeDrawn() {
    FaultPlan plan = read("drawn: {count: 40, within: 8 h, seed: 7, kinds: [reset, garbage]}");
    assertEquals(40, plan.faults().size());
    assertEquals(
        List.of(Kind.GARBAGE, Kind.RESET),
        plan.faults().stream().map(SimFault::kind).distinct().sorted().toList());
  }

  @Test
  void faultsOfTheFileAreFoundAllAtOnce() {
    String message =
        assertThrows(
                BadInputException.class,
                () ->
                    read(
                        """
                        faults:
                          - {kind: silense, on: ammeter, question: 12}
                          - {kind: silence, on: ammeter}
                          - {kind: reset, on: kettle, after: 5 s}
                        """))
            .getMessage();
    assertTrue(message.contains("faults.yaml:2:12: 'silense' is not known as kind"), message);
    assertTrue(message.contains("Did you mean 'silence'?"), message);
    assertTrue(
        message.contains(
            "a fault with no beginning; expected either 'after: TIME' or 'question: NUMBER'"),
        message);
    assertTrue(message.contains("faults.yaml:4:"), message);
    assertTrue(message.contains("kettle"), message);
  }

  @Test
  void theSameSeedDrawsTheSamePlan() {
    FaultPlan.Lot lot = FaultPlan.Lot.ofAll(30, Duration.ofHours(10));
    FaultPlan plan = FaultPlan.drawn(lot, new Seeds(3));
    assertEquals(plan, FaultPlan.drawn(lot, new Seeds(3)));
    assertNotEquals(plan, FaultPlan.drawn(lot, new Seeds(4)));
  }

  @Test
  void enoughDrawsHoldEveryKindWithinTheTime() {
    FaultPlan plan = FaultPlan.drawn(FaultPlan.Lot.ofAll(2000, Duration.ofHours(10)), new Seeds(3));
    assertEquals(
        Kind.values().length,
        plan.faults().stream().map(SimFault::kind).collect(Collectors.toSet()).size());
    plan.faults()
        .forEach(
            f ->
                assertTrue(
                    ((AtTime) f.when()).elapsed().compareTo(Duration.ofHours(10)) < 0,
                    f.toString()));
  }

  @ParameterizedTest
  @EnumSource(names = {"CHAMBER_STUCK", "UNIT_DIES"})
  void whatBefallsTheBenchNeedsATimeAndItsOwnInstrument(Kind kind) {
    String target = kind.targets().get(0);
    assertThrows(
        IllegalArgumentException.class, () -> SimFault.of(kind, target, new AtQuestion(1)));
    AtTime time = new AtTime(Duration.ZERO);
    String message =
        assertThrows(IllegalArgumentException.class, () -> SimFault.of(kind, "ammeter", time))
            .getMessage();
    assertEquals("'%s' on 'ammeter'; expected one of [%s]".formatted(kind.text(), target), message);
  }

  @Test
  void anUnknownInstrumentIsRefused() {
    AtQuestion first = new AtQuestion(1);
    assertThrows(IllegalArgumentException.class, () -> SimFault.of(Kind.SILENCE, "kettle", first));
  }
}
