// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimInstrumentNames;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** What a check of a simulated bench says, over sockets. */
@Timeout(120)
class BenchCheckCommandIT {
  private static final String SHEET = "examples/fx-3.datasheet.yaml";

  @TempDir private Path folder;

  @Test
  void aGoodBenchHasALinePerInstrumentAndInterlock() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      Spoken said = Spoken.by("bench", "check", "--bench", served.file());
      assertEquals(0, said.code(), said.out() + said.err());
      SimInstrumentNames.NAMES.forEach(
          name -> assertTrue(said.out().contains("\nok         " + name + " ("), said.out()));
      assertTrue(said.out().contains("SIMULATED: no real instrument is behind it"));
      assertTrue(said.out().contains("; round trip "), said.out());
      assertTrue(said.out().contains("no errors; calibration due 2999-03-02"), said.out());
      assertTrue(said.out().contains("ok         interlock supply current"), said.out());
    }
  }

  @Test
  void jsonIsOneDocumentWithEveryInstrument() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      Spoken said = Spoken.by("bench", "check", "--bench", served.file(), "--json");
      JsonNode document = new ObjectMapper().readTree(said.out());
      assertEquals(9, document.get("instruments").size());
      assertEquals("simulated", document.get("origin").asText());
      JsonNode ammeter = document.get("instruments").get(0);
      assertEquals("2999-03-02", ammeter.get("calibration_due").asText());
      assertTrue(ammeter.get("round_trip_s").asDouble() > 0);
      assertTrue(ammeter.get("trouble").isNull());
      assertEquals(0, document.get("exit_code").asInt());
    }
  }

  @Test
  void anInstrumentThatIsAwayIsNamedAndTheOthersAreAsked() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      served.rewrite(":" + served.bench().ports().get("load"), ":1");
      Spoken said = Spoken.by("bench", "check", "--bench", served.file());
      assertEquals(3, said.code());
      assertTrue(said.out().contains("NO ANSWER  load (load)"), said.out());
      assertTrue(said.out().contains("ok         chamber (chamber)"), said.out());
    }
  }

  @Test
  void anOverdueCertificateIsWorthALook() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      served.rewrite("due: 2999-05-11", "due: 2026-01-11");
      Spoken said = Spoken.by("bench", "check", "--bench", served.file());
      assertEquals(7, said.code());
      assertTrue(said.out().contains("calibration OVERDUE since 2026-01-11"), said.out());
    }
  }

  @Test
  void anInterlockThatWouldStopARunAtOnceFails() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      served.rewrite(
          "chamber temperature: [-20 degC, 75 degC]", "chamber temperature: [40 degC, 75 degC]");
      Spoken said = Spoken.by("bench", "check", "--bench", served.file());
      assertEquals(1, said.code());
      assertTrue(
          said.out().contains("expected from 40 degC to 75 degC. A run would stop at once."),
          said.out());
    }
  }

  @Test
  void aRoleThatTheSequenceNeedsAndNobodyHasFails() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      int port = served.bench().ports().get("supply");
      served.rewrite(
          "  supply:\n    driver: scpi supply\n    address: tcp 127.0.0.1:%s\n".formatted(port)
              + "    roles:\n      supply: {at most: {voltage: 60 V, current: 100 mA}}\n",
          "");
      served.rewrite("[selector, supply, load", "[selector, load");
      served.rewrite("  supply current: 100 mA\n", "");
      Spoken said =
          Spoken.by(
              "bench",
              "check",
              "--bench",
              served.file(),
              "--datasheet",
              SHEET,
              "--sequence",
              "sequences/supply-regulation.yaml");
      assertEquals(1, said.code(), said.out() + said.err());
      assertTrue(said.out().contains("has no supply"), said.out());
    }
  }

  @Test
  void aRecordingAnswersInPlaceOfTheBench() throws IOException {
    Path recording = folder.resolve("check.recording");
    String file;
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      file = served.file();
      assertEquals(
          0, Spoken.by("bench", "check", "--bench", file, "--record", recording.toString()).code());
    }
    Spoken strict = Spoken.by("bench", "check", "--bench", file, "--replay", recording.toString());
    assertEquals(0, strict.code(), strict.out() + strict.err());
    assertTrue(strict.out().contains("REPLAYED"), strict.out());
    String text = Files.readString(recording);
    Files.writeString(recording, text.lines().limit(40).reduce("", (a, b) -> a + b + "\n"));
    Spoken cut = Spoken.by("bench", "check", "--bench", file, "--replay", recording.toString());
    assertEquals(3, cut.code(), cut.out());
  }

  @Test
  void byPatternTheOrderDoesNotMatter() throws IOException {
    Path recording = folder.resolve("check.recording");
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      Spoken.by("bench", "check", "--bench", served.file(), "--record", recording.toString());
      served.rewrite("chamber temperature: [-20 degC, 75 degC]\n", "humidity: 80 %\n");
      String[] words = {
        "bench", "check", "--bench", served.file(), "--replay", recording.toString(), "--by-pattern"
      };
      Spoken said = Spoken.by(words);
      assertTrue(said.out().contains("ok         chamber (chamber)"), said.out());
      assertFalse(said.out().contains("ok         interlock hygrometer"), said.out());
    }
  }

  @Test
  void talkShowsWhatCameWithTimesAndBytes() throws IOException {
    Path recording = folder.resolve("load.recording");
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      Spoken said =
          Spoken.typing(
              "*IDN?\nbytes\nSYST:ERR?\nNONSENSE\nend\nnot sent\n",
              "bench",
              "talk",
              "ammeter",
              "--bench",
              served.file(),
              "--record",
              recording.toString());
      assertEquals(0, said.code(), said.err());
      assertTrue(
          said.out().matches("(?s)\\d{4}-\\d\\d-\\d\\dT[0-9:.]+Z > \\*IDN\\?.*"), said.out());
      assertTrue(said.out().contains("SIMULATED"), said.out());
      assertTrue(said.out().contains("53 59 53 54 3a 45 52 52 3f"), said.out());
      assertFalse(said.out().contains("not sent"));
      assertTrue(Files.readString(recording).contains(" > *IDN?\\n"));
    }
  }

  @Test
  void talkRefusesAnUnknownNameWithTheNearest() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      Spoken said = Spoken.by("bench", "talk", "ameter", "--bench", served.file());
      assertEquals(2, said.code());
      assertTrue(said.err().contains("ammeter"), said.err());
    }
  }

  @Test
  void safeMakesEveryInstrumentSafe() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      Spoken.typing("SOURCE ON\n", "bench", "talk", "selector", "--bench", served.file());
      assertFalse(served.bench().unsafe().isEmpty());
      Spoken.done("safe", "--bench", served.file());
      assertTrue(served.bench().unsafe().isEmpty(), served.bench().unsafe().toString());
    }
  }

  @Test
  void safeSaysWhichInstrumentCouldNotBeConfirmed() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      served.rewrite(":" + served.bench().ports().get("supply"), ":1");
      Spoken said = Spoken.by("safe", "--bench", served.file());
      assertEquals(8, said.code());
      assertTrue(said.out().contains("supply            NOT SAFE: "), said.out());
      assertTrue(
          said.err()
              .contains(
                  "the safe state could not be confirmed for 'supply'. Switch these off by hand"),
          said.err());
    }
  }

  @Test
  void tryExercisesEveryRoleAndShowsWhatWasSaid() throws IOException {
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      for (String name : SimInstrumentNames.NAMES) {
        Spoken said =
            Spoken.by("bench", "try", name, "--bench", served.file(), "--datasheet", SHEET);
        assertEquals(0, said.code(), name + ":\n" + said.out() + said.err());
        assertTrue(said.out().contains("    answered "), said.out());
      }
      assertTrue(served.bench().unsafe().isEmpty(), served.bench().unsafe().toString());
      assertTrue(
          served.bench().mistreatments().isEmpty(), served.bench().mistreatments().toString());
    }
  }

  @Test
  void tryNamesWhatDoesNotMatchTheDriver() throws IOException {
    Path drivers = Files.createDirectories(folder.resolve("drivers"));
    for (Path each : shipped()) {
      String text = Files.readString(each);
      Files.writeString(drivers.resolve(each.getFileName()), text.replace("TEMP?", "TEMPERATUR?"));
    }
    try (Served served = Served.at(folder, FaultPlan.NONE)) {
      Spoken said =
          Spoken.by(
              "bench",
              "try",
              "thermometer",
              "--bench",
              served.file(),
              "--drivers",
              drivers.toString());
      assertEquals(1, said.code(), said.out() + said.err());
      assertTrue(said.out().contains("FAIL       unit thermometer, read: "), said.out());
      assertTrue(said.out().contains("    asked    TEMPERATUR?"), said.out());
    }
  }

  private static java.util.List<Path> shipped() throws IOException {
    try (java.util.stream.Stream<Path> all = Files.list(Path.of("drivers"))) {
      return all.filter(p -> p.toString().endsWith(".yaml")).toList();
    }
  }
}
