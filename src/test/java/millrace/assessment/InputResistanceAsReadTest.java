// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.evidence.ResultQuantity;
import millrace.evidence.RunOrigin;
import millrace.evidence.setting.PointSettings;
import millrace.logbook.FileRole;
import millrace.logbook.Logbook;
import millrace.logbook.RunFacts;
import millrace.logbook.RunStart;
import millrace.logbook.RunState;
import millrace.logbook.RunWriter;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A voltmeter upstream takes V/R_in, by Ohm's law; what it says of R_in goes before the file. */
class InputResistanceAsReadTest {
  private static final Instant START = Instant.parse("2026-02-03T18:00:00Z");
  private static final double AMPERES = 1e-3;
  private static final double INPUT_OHM = 10e6;

  private static final String BENCH =
      """
      bench: upstream
      before a change: source off
      instruments:
        dmm:
          driver: scpi meter
          address: tcp 127.0.0.1:5025
          roles:
            current meter:
              accuracy: [{range: 2 mA, reading: 25 ppm, full scale: 4 ppm, transfer: 0.2 ppm}]
        vm:
          driver: scpi meter
          address: tcp 127.0.0.1:5026
          roles:
            voltmeter:
              accuracy: [{range: 10 V, reading: 20 ppm, full scale: 4 ppm, input resistance: 10 Gohm}]
      wiring:
        voltmeter: upstream
      """;

  @TempDir private Path folder;

  private static Reading reading(MeasuredSignal signal, double value, Duration at) {
    return new Reading(
        signal,
        signal == MeasuredSignal.CURRENT ? "dmm" : "vm",
        ReadingState.NUMBER,
        OptionalDouble.of(value),
        OptionalDouble.empty(),
        Double.toString(value),
        START.plus(at),
        at);
  }

  private static void point(RunWriter writer, int k, Optional<String> said) {
    double ohm = 1000.0 * (k % 6);
    double volts = AMPERES * ohm;
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < 4; i++) {
      Duration at = Duration.ofSeconds(10L * k + i);
      double noise = (i % 2 == 0 ? 1 : -1) * 1e-10;
      readings.add(reading(MeasuredSignal.CURRENT, AMPERES - volts / INPUT_OHM + noise, at));
      readings.add(reading(MeasuredSignal.VOLTAGE, volts, at));
    }
    Map<String, String> words =
        new TreeMap<>(Map.of("current meter range", "2 mA", "voltmeter range", "10 V"));
    said.ifPresent(r -> words.put("voltmeter input", r));
    PointConditions c =
        PointConditions.NONE
            .inRange("1mA", AMPERES)
            .atTemperature(23)
            .atLoad(ohm, OptionalDouble.empty(), Optional.empty());
    Duration from = Duration.ofSeconds(10L * k);
    writer.commit(
        new Point(
            0,
            PointNumber.of(1),
            "p" + k,
            PointKind.MEASURE,
            c,
            PointState.COMPLETE,
            "",
            from,
            from.plusSeconds(3),
            PointSettings.of(words)),
        readings,
        List.of());
  }

  private Assessment assessed(Optional<String> said) {
    try (Logbook logbook = Logbook.openOrCreate(folder.resolve("book.db"))) {
      RunStart start =
          new RunStart(
              "UP-1",
              RunOrigin.BENCH,
              "sweep",
              RunStart.People.NONE,
              Optional.empty(),
              "0.1.0",
              START,
              ZoneOffset.UTC,
              RunFacts.NONE);
      try (RunWriter writer = logbook.begin(start)) {
        writer.file(FileRole.BENCH, "bench.yaml", BENCH.getBytes(UTF_8));
        for (int k = 0; k < 12; k++) {
          point(writer, k, said);
        }
        writer.end(RunState.COMPLETE, "", START);
        return Assessor.assess(logbook.reader(writer.run()));
      }
    }
  }

  private static ComputationOutcome.Value conductance(Assessment found) {
    return (ComputationOutcome.Value)
        found.results().stream()
            .filter(r -> r.quantity() == ResultQuantity.OUTPUT_CONDUCTANCE)
            .findFirst()
            .orElseThrow()
            .outcome();
  }

  @Test
  void whatTheMeterSaysIsCountedWithAndNamed() {
    Assessment found = assessed(Optional.of("1.0E+07"));
    ComputationOutcome.Value g = conductance(found);
    assertEquals(0, g.value(), g.uncertainty().orElseThrow().expanded());
    String notes = String.join("\n", found.notes());
    assertTrue(
        notes.contains(
            "'vm' says that its input is 10.0 Mohm, the bench file 10.0 Gohm: what the meter says"
                + " is counted with"),
        notes);
  }

  @Test
  void withoutAWordOfItTheBenchFileIsBelieved() {
    Assessment found = assessed(Optional.empty());
    assertEquals(1 / INPUT_OHM - 1 / 10e9, conductance(found).value(), 2e-10);
    assertFalse(String.join("\n", found.notes()).contains("what the meter says"));
  }
}
