// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.evidence.RunOrigin;
import millrace.evidence.setting.PointSettings;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.OpenBook;
import millrace.logbook.RunFacts;
import millrace.logbook.RunStart;
import millrace.logbook.RunState;
import millrace.logbook.RunWriter;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.RegisterExtension;

/** Which record tells the slow noise of a night is found in the logbook, and named. */
class RecordsOfOtherRunsTest {
  private static final Instant START = Instant.parse("2026-02-03T18:00:00Z");
  private static final double[] LAP = {23, 35, 50, 23, 5, 23};
  private static final int APART_S = 160;
  private static final double QUIET = 1e-6;

  @RegisterExtension private final OpenBook book = new OpenBook();
  private int days;

  /** Where readings come from. */
  private record Bench(String meter, String range, double noise) {}

  private static final Bench USUAL = new Bench("SN 1", "2 mA", QUIET);

  private RunWriter begun(String unit, Bench bench) {
    RunWriter writer =
        book.logbook()
            .begin(
                new RunStart(
                    unit,
                    RunOrigin.IMPORTED,
                    "night",
                    RunStart.People.NONE,
                    Optional.empty(),
                    "0.1.0",
                    START.plus(Duration.ofDays(days++)),
                    ZoneOffset.UTC,
                    RunFacts.NONE));
    writer.instrument(
        new InstrumentEntry(
            "dmm",
            "current meter",
            "scpi meter",
            "tcp 127.0.0.1:5025",
            "",
            Optional.of(bench.meter()),
            Optional.empty(),
            START));
    return writer;
  }

  private static void point(
      RunWriter writer, Bench bench, PointConditions c, PointKind kind, double[] fromAndCount) {
    SplittableRandom chance = new Seeds(writer.run()).stream("noise " + fromAndCount[0]);
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < fromAndCount[1]; i++) {
      double ampere = 1e-3 * (1 + bench.noise() * chance.nextGaussian());
      Duration at = Duration.ofMillis(Math.round(1000 * (fromAndCount[0] + i)));
      readings.add(reading(MeasuredSignal.CURRENT, ampere, at));
      readings.add(reading(MeasuredSignal.UNIT_TEMPERATURE, c.temperatureDegC().orElse(23), at));
    }
    Duration from = readings.get(0).elapsed();
    Duration to = readings.get(readings.size() - 1).elapsed();
    PointSettings settings =
        PointSettings.of(
            Map.of("current meter range", bench.range(), "current meter cycles", "10"));
    String key = kind + " " + fromAndCount[0];
    writer.commit(
        new Point(0, PointNumber.of(1), key, kind, c, PointState.COMPLETE, "", from, to, settings),
        readings,
        List.of());
  }

  private static Reading reading(MeasuredSignal signal, double value, Duration at) {
    return new Reading(
        signal,
        "dmm",
        ReadingState.NUMBER,
        OptionalDouble.of(value),
        OptionalDouble.empty(),
        Double.toString(value),
        START.plus(at),
        at);
  }

  private static PointConditions at(double degC) {
    return PointConditions.NONE
        .inRange("1mA", 1e-3)
        .atTemperature(degC)
        .atLoad(100, OptionalDouble.empty(), Optional.empty());
  }

  private long record(String unit, Bench bench) {
    try (RunWriter writer = begun(unit, bench)) {
      point(writer, bench, at(23), PointKind.TIME_SERIES, new double[] {0, 1000});
      writer.end(RunState.COMPLETE, "", START);
      return writer.run();
    }
  }

  private Result hysteresisOfANight(String unit) {
    try (RunWriter writer = begun(unit, USUAL)) {
      for (int visit = 0; visit < LAP.length; visit++) {
        PointConditions c = at(LAP[visit]).onVisit(visit);
        point(writer, USUAL, c, PointKind.MEASURE, new double[] {visit * APART_S, 10});
      }
      writer.end(RunState.COMPLETE, "", START);
      return Assessor.assess(book.logbook().reader(writer.run())).results().stream()
          .filter(r -> r.quantity() == ResultQuantity.THERMAL_HYSTERESIS)
          .findFirst()
          .orElseThrow();
    }
  }

  private static boolean hasU(Result result) {
    return result.outcome() instanceof ComputationOutcome.Value v && v.uncertainty().isPresent();
  }

  @Test
  void anotherUnitsRecordAtTheSameMeterSettingServesAndIsNamed() {
    long run = record("OTHER-1", USUAL);
    Result found = hysteresisOfANight("MINE-1");
    String notes = String.join("\n", found.notes());
    assertTrue(hasU(found), found.toString());
    String named = "noise law from the record of run %s, unit 'OTHER-1'".formatted(run);
    assertTrue(notes.contains(named), notes);
    assertTrue(notes.contains("that record is of another unit"), notes);
  }

  @Test
  void aRecordOfTheUnitItselfGoesBeforeANewerOneOfAnother() {
    long own = record("MINE-1", USUAL);
    record("OTHER-1", USUAL);
    String notes = String.join("\n", hysteresisOfANight("MINE-1").notes());
    assertTrue(notes.contains("noise law from the record of run %s".formatted(own)), notes);
    assertFalse(notes.contains("OTHER-1"), notes);
  }

  @Test
  void ofTwoThatFitTheNewestServes() {
    record("OTHER-1", USUAL);
    long newer = record("OTHER-2", USUAL);
    String notes = String.join("\n", hysteresisOfANight("MINE-1").notes());
    assertTrue(notes.contains("run %s, unit 'OTHER-2'".formatted(newer)), notes);
  }

  @Test
  void noOtherMeterRangeOrScatterServes() {
    record("OTHER-1", new Bench("SN 2", "2 mA", QUIET));
    record("OTHER-2", new Bench("SN 1", "20 mA", QUIET));
    record("OTHER-3", new Bench("SN 1", "2 mA", 3 * QUIET));
    Result found = hysteresisOfANight("MINE-1");
    assertFalse(hasU(found));
    assertEquals(
        1, found.notes().stream().filter(n -> n.contains("no U: a stability record")).count());
  }
}
