// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.function.UnaryOperator;
import millrace.bench.Bench;
import millrace.bench.BenchForms;
import millrace.bench.check.BenchCheckFinding;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.datasheet.DatasheetFile;
import millrace.document.yaml.YamlFile;
import millrace.run.trial.MeterChainCheck;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.sim.fault.SimFault.AtTime;
import millrace.sim.fault.SimFault.Kind;
import millrace.time.SystemClock;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * A simulated bench that is wired wrong, over sockets: the slip is named before anything is
 * measured.
 */
@Timeout(180)
class WiringFaultFinderIT {
  private static final String SHEET = "examples/fx-3.datasheet.yaml";

  @TempDir private Path folder;

  private static FaultPlan from0(Kind kind) {
    return FaultPlan.of(SimFault.of(kind, kind.targets().get(0), new AtTime(Duration.ZERO)));
  }

  private static Spoken check(Served served, String... more) {
    List<String> words =
        new java.util.ArrayList<>(
            List.of(
                "bench",
                "check",
                "--bench",
                served.file(),
                "--datasheet",
                SHEET,
                "--speed",
                "1000"));
    words.addAll(List.of(more));
    return Spoken.by(words.toArray(String[]::new));
  }

  @Test
  void aBenchThatIsWiredRightPassesRangeByRangeAndIsSafeAfterwards() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      Spoken said = check(served);
      assertEquals(0, said.code(), said.out() + said.err());
      for (String range : List.of("1uA", "10uA", "100uA", "1mA", "10mA")) {
        assertTrue(said.out().contains("meter chain, range " + range), said.out());
      }
      assertTrue(said.out().contains("voltage over current"), said.out());
      assertEquals(List.of(), served.bench().unsafe());
      assertEquals(List.of(), served.bench().mistreatments());
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          LEADS_REVERSED      | The current is negative: the leads are reversed.
          LEAD_OPEN           | a lead of the unit is open
          FUSE_BLOWN          | the current meter's fuse is blown
          METER_ACROSS_OUTPUT | the current meter sits across the output
          """)
  void theSlipIsNamedByTheCheckAndByTheTrialLap(Kind kind, String named) throws IOException {
    try (Served served = Served.at(folder, from0(kind))) {
      Spoken said = check(served);
      assertEquals(1, said.code(), said.out() + said.err());
      assertTrue(said.out().contains(named), said.out());
      assertEquals(List.of(), served.bench().unsafe());
      Spoken ran = run(served, "sequence: lap\nsteps: [trial lap]\n");
      assertEquals(9, ran.code(), ran.out() + ran.err());
      assertTrue(ran.err().contains("trial lap, range 1uA into 0 ohm"), ran.err());
      assertTrue(ran.err().contains(named), ran.err());
      assertTrue(ran.err().contains("The chamber was not moved."), ran.err());
      assertEquals(List.of(), served.bench().unsafe());
    }
  }

  private static String overLoads(String loads) {
    return """
    sequence: s
    readings: {count: 3, line cycles: 1}
    steps:
      - in ranges: [1mA]
        do:
          - zero
          - over loads: {resistance: [%s]}
            sweep: as listed
    """
        .formatted(loads);
  }

  private Spoken run(Served served, String sequence) throws IOException {
    Path file = folder.resolve("s.yaml");
    Files.writeString(file, sequence);
    return Spoken.by(
        "run",
        file.toString(),
        "--unit",
        "FX3-00001",
        "--datasheet",
        SHEET,
        "--bench",
        served.file(),
        "--speed",
        "1000",
        "--logbook",
        folder.resolve("w.db").toString());
  }

  /** A recording is answered from its beginning, where a resumed run does not begin. */
  @Test
  void aResumedRunIsRecordedTooAndNeverReplayed() throws IOException {
    try (Served served = Served.at(folder, from0(Kind.LEAD_OPEN))) {
      Spoken ran = run(served, "sequence: lap\nsteps: [trial lap]\n");
      assertEquals(9, ran.code(), ran.out() + ran.err());
      Path recording = folder.resolve("again.recording");
      Spoken again = resume(served, "--record", recording);
      assertEquals(9, again.code(), again.out() + again.err());
      List<String> kept = Files.readAllLines(recording);
      assertEquals("millrace recording 1", kept.get(0));
      assertTrue(kept.stream().anyMatch(l -> l.endsWith("> READ?\\n")), kept::toString);
      Spoken replayed = resume(served, "--replay", recording);
      assertEquals(2, replayed.code(), replayed.out() + replayed.err());
      assertTrue(
          replayed.err().contains("--replay with --resume; expected one of them"), replayed.err());
    }
  }

  private Spoken resume(Served served, String option, Path recording) {
    return Spoken.by(
        "run",
        "--resume",
        "1",
        "--bench",
        served.file(),
        option,
        recording.toString(),
        "--speed",
        "1000",
        "--logbook",
        folder.resolve("w.db").toString());
  }

  @Test
  void anOpenLoopStandsAtTheRailWhereTheVoltmeterIsUpstream() throws IOException {
    try (Served served = Served.upstream(folder, from0(Kind.LEAD_OPEN))) {
      Spoken said = check(served);
      assertTrue(
          said.out().contains("The terminals stand at the rail, so the loop is open."), said.out());
      assertTrue(said.out().contains("a lead of the unit is open"), said.out());
    }
  }

  @Test
  void aLoadThatIsNotWhatItsCertificateSaysIsNamedAndItsPointsAreFlagged() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      served.rewrite(
          "          - {reading: 200 ppm, absolute: 20 mohm}",
          "          - {reading: 200 ppm, absolute: 20 mohm}\n"
              + "        values: [{nominal: 6.75 kohm, value: 6.82 kohm, u: 10 mohm}]");
      Spoken said = check(served);
      assertEquals(1, said.code(), said.out() + said.err());
      assertTrue(said.out().contains("FAIL       meter chain, range 1mA"), said.out());
      assertTrue(said.out().contains("ok         meter chain, range 10mA"), said.out());
      assertTrue(said.out().contains("Look for a stuck relay"), said.out());
      Spoken ran = run(served, overLoads("1 kohm, 6.75 kohm, 2 kohm"));
      String flagged = "flag: voltage over current gives 6.7";
      assertTrue(ran.err().contains(flagged), ran.err());
      assertEquals(1, ran.err().split(flagged, -1).length - 1, ran.err());
    }
  }

  @Test
  void aStuckRelayOfTheLoadIsNamedByTheCheckAndFlagsItsPoints() throws IOException {
    try (Served served = Served.at(folder, from0(Kind.RELAY_STUCK))) {
      Spoken said = check(served);
      assertEquals(1, said.code(), said.out() + said.err());
      assertTrue(said.out().contains("Look for a stuck relay"), said.out());
      Spoken ran = run(served, overLoads("1 kohm, 2 kohm"));
      assertEquals(6, ran.code(), ran.out() + ran.err());
      assertTrue(
          ran.err().matches("(?s).*flag: voltage over current gives 1\\.(09|10).*"), ran.err());
      assertTrue(
          ran.err().matches("(?s).*flag: voltage over current gives 2\\.(09|10).*"), ran.err());
    }
  }

  @Test
  void aThermometerAsideIsNamedWhenTheChamberMoves() throws IOException {
    try (Served served = Served.at(folder, from0(Kind.THERMOMETER_ASIDE))) {
      Spoken ran =
          run(
              served,
              """
              sequence: s
              readings: {count: 3, line cycles: 1}
              steps:
                - at temperatures: [40 degC]
                  soak: {within: 50 ppm, at least: 10 min, at most: 40 min}
                  do:
                    - in ranges: [1mA]
                      do:
                        - zero
                        - over loads: {resistance: [1 kohm, 2 kohm, 3 kohm]}
                          sweep: as listed
              """);
      assertTrue(ran.err().contains("it is not at the unit. Fasten it to the unit."), ran.err());
    }
  }

  @Test
  void swappedSlotsAreNamedBySwitchingUnitsOff() throws IOException {
    assertEquals(
        List.of(BenchCheckFinding.State.GOOD, BenchCheckFinding.State.GOOD),
        slots(FaultPlan.NONE).stream().map(BenchCheckFinding::state).toList());
    List<BenchCheckFinding> swapped = slots(from0(Kind.SLOTS_SWAPPED));
    assertEquals(
        "its unit was switched off and the reading of slot '2' fell; expected that of slot '1'. The"
            + " slots are swapped or mislabelled: exchange the leads, or the positions in the bench"
            + " file.",
        swapped.get(0).text());
    assertEquals(BenchCheckFinding.State.BAD, swapped.get(1).state());
  }

  private List<BenchCheckFinding> slots(FaultPlan plan) throws IOException {
    try (Served served = Served.at(folder, plan, List.of("1", "2"));
        Bench bench =
            Bench.open(
                BenchForms.read(served.file(), YamlFile.bytes(Path.of(served.file()))),
                Drivers.load(Path.of("drivers")),
                new SystemClock(1000))) {
      MeterChainCheck check =
          new MeterChainCheck(bench, DatasheetFile.read(Path.of(SHEET)), new SystemClock(1000));
      List<BenchCheckFinding> found = check.slots(handOf(served));
      notEmpty(bench.makeSafe()).forEach(s -> assertTrue(s.trouble().isEmpty(), s.toString()));
      return found;
    }
  }

  /** A person who does as told. */
  private static BenchOperator handOf(Served served) {
    UnaryOperator<String> hand = hand(served);
    return question -> new BenchOperator.Answer(hand.apply(question), "");
  }

  private static UnaryOperator<String> hand(Served served) {
    String[] off = {""};
    return question -> {
      if (question.startsWith("Switch off the unit that is meant for slot '")) {
        off[0] = question.substring(44, 45);
      }
      served.bench().switchOff(off[0], question.startsWith("Switch off"));
      return "";
    };
  }

  private static final String TWO =
      """
      sequence: lap
      steps:
        - in slots: all
          do:
            - trial lap: {ask about slots: yes}
      """;

  @Test
  void theTrialLapTellsTheSlotsApartWhereItIsToAsk() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE, List.of("1", "2"))) {
      Spoken right = two(served, TWO, hand(served));
      assertEquals(6, right.code(), right.out() + right.err()); // a lap alone gives no result
      assertTrue(right.err().contains("slot '1': its reading fell when"), right.err());
      assertTrue(right.err().contains("slot '2': its reading fell when"), right.err());
      Spoken idle = two(served, TWO, question -> "later");
      assertTrue(idle.err().contains("no reading fell when the unit of slot '2'"), idle.err());
      assertTrue(idle.err().contains("(the answer was 'later')"), idle.err());
      Spoken none =
          two(served, TWO.replace(": {ask about slots: yes}", ""), question -> "asked for nothing");
      assertTrue(
          none.err().contains("not tried: whether the units of slots '1', '2' are swapped."),
          none.err());
      assertFalse(none.err().contains("Switch off the unit"), none.err());
    }
    try (Served served = Served.at(folder, from0(Kind.SLOTS_SWAPPED), List.of("1", "2"))) {
      Spoken swapped = two(served, TWO, hand(served));
      assertTrue(
          swapped
              .err()
              .contains(
                  "trial lap, slot '1': its unit was switched off and the reading of slot '2'"),
          swapped.err());
      assertEquals(List.of(), served.bench().unsafe());
    }
  }

  private Spoken two(Served served, String sequence, UnaryOperator<String> person)
      throws IOException {
    Path file = Files.writeString(folder.resolve("two.yaml"), sequence);
    return Spoken.answering(
        person,
        "run",
        file.toString(),
        "--unit",
        "1=FX3-00001",
        "--unit",
        "2=FX3-00002",
        "--datasheet",
        SHEET,
        "--bench",
        served.file(),
        "--speed",
        "1000",
        "--logbook",
        folder.resolve("two.db").toString());
  }

  @Test
  void aVoltmeterThatLeavesTheCurrentUnknownIsRefused() throws IOException {
    try (Served served = Served.upstream(folder, FaultPlan.NONE)) {
      served.rewrite(
          "input resistance: 10 Gohm, input resistance uncertainty: 3 %",
          "input resistance: 10 Mohm, input resistance uncertainty: 3 %");
      Spoken said = check(served, "--uncertainty", "5 ppm");
      assertEquals(1, said.code(), said.out() + said.err());
      assertTrue(
          said.out()
              .contains(
                  "at 13.5 V its input of 10.0 Mohm, known within 3.0 %, leaves 41 nA of the"
                      + " current unknown; expected at most 500 fA, a tenth of the 5.0 pA asked"
                      + " for. Buffer the voltmeter, disconnect it, or take it out of the bench"
                      + " file"),
          said.out());
      assertFalse(said.out().contains("ok         voltmeter input, range 1uA"), said.out());
    }
  }
}
