// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.evidence.RunOrigin;
import millrace.evidence.SweepDirection;
import millrace.evidence.setting.PointSettings;
import millrace.logbook.FileRole;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.Logbook;
import millrace.logbook.RunFacts;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.logbook.RunState;
import millrace.logbook.RunWriter;
import millrace.time.Seeds;

/** An invented night, written into a real logbook: two ranges, four stays, a knee near 9 V. */
final class SampleRun implements AutoCloseable {
  static final Instant START = Instant.parse("2026-11-25T18:00:00Z");
  private static final double[] STAYS = {23, 40, 5, 23};
  private static final int READINGS = 5;
  private static final double NOISE = 0.4e-6;

  static final String DATASHEET =
      """
      datasheet: BX5 excitation source
      reference temperature: 23 degC
      open-circuit voltage: 14 V
      compliance: {voltage: 8 V, criterion: 0.1 %, relative to: line}
      decision: {rule: guarded, r: 1}
      parts:
        REF: {kind: reference, value: 4.096 V, tolerance: 0.05 %, tempco: 3 ppm/K}
        R1: {kind: resistor, value: 4.096 kohm, tolerance: 0.05 %, tempco: 2 ppm/K}
        R2: {kind: resistor, value: 40.96 kohm, tolerance: 0.05 %, tempco: 2 ppm/K}
        A1: {kind: amplifier, offset: 30 uV, drift: 0.3 uV/K, bias: 5 pA, gain: 120 dB}
        Q1: {kind: pass device, type: insulated gate}
        S1: {kind: supply, voltage: 15 V}
      ranges:
        1mA: {nominal: 1 mA, made from: {reference: REF, set voltage: 4.096 V, resistor: R1,
              amplifier: A1, pass device: Q1, supply: S1}}
        100uA: {nominal: 100 uA, made from: {reference: REF, set voltage: 4.096 V, resistor: R2,
              amplifier: A1, pass device: Q1, supply: S1}}
      limits:
        - {quantity: current_error, range: all, lower: -100 ppm, upper: 100 ppm,
           when: {terminal voltage: [0 V, 4 V]}}
        - {quantity: tempco, range: all, lower: -5 ppm/K, upper: 5 ppm/K}
        - {quantity: compliance_voltage, range: all, lower: 8 V}
        - {quantity: tempco_box, range: all, upper: 1 ppm/K}
      """;

  static final String BENCH =
      """
      bench: sample bench
      before a change: source off
      instruments:
        dmm1:
          driver: scpi meter
          address: tcp 127.0.0.1:5025
          roles:
            current meter:
              accuracy:
                - {range: 2 mA, reading: 25 ppm, full scale: 4 ppm, transfer: 0.2 ppm, burden: 5 ohm}
                - {range: 200 uA, reading: 25 ppm, full scale: 4 ppm, transfer: 0.2 ppm, burden: 50 ohm}
        box:
          driver: plain decade load
          address: tcp 127.0.0.1:5026
          roles:
            load:
              accuracy:
                - {reading: 200 ppm, absolute: 20 mohm}
        thermo:
          driver: plain thermometer
          address: tcp 127.0.0.1:5027
          roles:
            unit thermometer:
              accuracy:
                - {absolute: 0.08 K}
      wiring:
        leads: 0.15 ohm
      """;

  private final Logbook logbook;
  private final RunWriter writer;
  private final RunOrigin origin;
  private final SplittableRandom chance = new Seeds(7).stream("sample");
  private double clockS;

  SampleRun(Path folder, RunOrigin origin, String unit) {
    this.logbook = Logbook.openOrCreate(folder.resolve("sample.db"));
    this.origin = origin;
    this.writer = logbook.begin(start(unit));
    writer.file(FileRole.DATASHEET, "bx5.yaml", DATASHEET.getBytes(StandardCharsets.UTF_8));
    writer.file(FileRole.BENCH, "bench.yaml", BENCH.getBytes(StandardCharsets.UTF_8));
  }

  private RunStart start(String unit) {
    return new RunStart(
        unit,
        origin,
        "overnight <characterization>",
        new RunStart.People(Optional.of("Ada"), Optional.of("B7"), Optional.empty()),
        origin == RunOrigin.SIMULATED
            ? Optional.of(new RunStart.Simulation(42, true))
            : Optional.empty(),
        "0.1.0",
        START,
        ZoneOffset.ofHours(1),
        RunFacts.NONE);
  }

  void instrument(String name, String identity, LocalDate due) {
    writer.instrument(
        new InstrumentEntry(
            name,
            "current meter",
            "scpi-meter",
            "tcp 127.0.0.1:5025",
            identity,
            Optional.of("SN 1"),
            Optional.of(
                new InstrumentEntry.Certificate(
                    "Lab of invented values", "C-17", Optional.empty(), Optional.of(due))),
            START));
  }

  void incident(String text) {
    writer.incident(
        new Incident(IncidentKind.RETRY, Optional.empty(), text, START, Duration.ofSeconds(11)));
  }

  /** Measures everything; nothing is asked of it but to look like a night. */
  void measure() {
    for (int stay = 0; stay < STAYS.length; stay++) {
      soak(stay);
      sweep("1mA", 1e-3, stay);
      sweep("100uA", 1e-4, stay);
    }
  }

  private Duration now() {
    return Duration.ofNanos(Math.round(clockS * 1e9));
  }

  private static PointConditions at(String range, double nominalA, int stay) {
    PointConditions c = PointConditions.NONE.inRange(range, nominalA).atTemperature(STAYS[stay]);
    return c.onVisit(stay);
  }

  private void soak(int stay) {
    PointConditions c = at("1mA", 1e-3, stay);
    double from = stay == 0 ? 23 : STAYS[stay - 1];
    Point point = point("soak " + stay, PointKind.SOAK, c);
    RunWriter.OpenPoint open = writer.open(point);
    List<Reading> readings = new ArrayList<>();
    double began = clockS;
    for (int i = 0; i < 120; i++) {
      clockS += 30;
      double t = STAYS[stay] + (from - STAYS[stay]) * Math.exp(-(clockS - began) / 600);
      readings.add(reading(MeasuredSignal.UNIT_TEMPERATURE, t));
      readings.add(reading(MeasuredSignal.CURRENT, current(1e-3, 1, t)));
    }
    open.append(readings);
    open.close(closed(point));
    writer.incident(
        new Incident(
            IncidentKind.SOAK, Optional.empty(), "over by projection after 60 min.", START, now()));
  }

  private void sweep(String range, double nominalA, int stay) {
    for (SweepDirection direction : SweepDirection.values()) {
      for (int i = 0; i <= 20; i++) {
        int step = direction == SweepDirection.UP ? i : 20 - i;
        measured(at(range, nominalA, stay), step * 0.55 / nominalA, direction);
      }
    }
  }

  private void measured(PointConditions base, double loadOhm, SweepDirection direction) {
    PointConditions c = base.atLoad(loadOhm, OptionalDouble.empty(), Optional.of(direction));
    String key =
        "%s/%s/%s/%s"
            .formatted(c.visit(), c.range().orElseThrow(), direction.text(), Math.round(loadOhm));
    List<Reading> readings = new ArrayList<>();
    double t = c.temperatureDegC().orElseThrow() + 0.1;
    for (int i = 0; i < READINGS; i++) {
      clockS += 1;
      double ampere = current(c.nominalA().orElseThrow(), loadOhm, t);
      readings.add(reading(MeasuredSignal.CURRENT, ampere));
      readings.add(reading(MeasuredSignal.UNIT_TEMPERATURE, t + 0.01 * chance.nextDouble()));
      readings.add(reading(MeasuredSignal.LAB_TEMPERATURE, 22.6 + 0.2 * chance.nextDouble()));
    }
    Point point = point(key, PointKind.MEASURE, c);
    Duration began = now().minusSeconds(READINGS);
    writer.commit(
        new Point(
            0,
            PointNumber.of(1),
            key,
            point.kind(),
            c,
            PointState.COMPLETE,
            "",
            began,
            now(),
            PointSettings.of(Map.of("current meter range", "1 mA"))),
        readings,
        List.of());
  }

  /** Falls by -2 ppm/K and 3 ppm/V, turns over near 9 V. */
  private double current(double nominalA, double loadOhm, double degC) {
    double plain = nominalA * (1 + 12e-6 - 2e-6 * (degC - 23));
    double onPlateau = plain / (1 + plain * loadOhm * 3e-6);
    double limited = loadOhm == 0 ? 1 : 9.1 / loadOhm;
    double i = onPlateau / Math.pow(1 + Math.pow(onPlateau / limited, 60), 1 / 60.0);
    return i + nominalA * NOISE * gauss();
  }

  private double gauss() {
    double sum = -6;
    for (int i = 0; i < 12; i++) {
      sum += chance.nextDouble();
    }
    return sum;
  }

  private Point point(String key, PointKind kind, PointConditions c) {
    return new Point(
        0, PointNumber.of(1), key, kind, c, PointState.OPEN, "", now(), now(), PointSettings.NONE);
  }

  private Point closed(Point p) {
    return new Point(
        p.id(),
        p.number(),
        p.key(),
        p.kind(),
        p.conditions(),
        PointState.COMPLETE,
        "",
        p.started(),
        now(),
        PointSettings.NONE);
  }

  private Reading reading(MeasuredSignal signal, double value) {
    return new Reading(
        signal,
        signal == MeasuredSignal.CURRENT ? "dmm1" : "thermo",
        ReadingState.NUMBER,
        OptionalDouble.of(value),
        OptionalDouble.empty(),
        Double.toString(value),
        START.plus(now()),
        now());
  }

  void end() {
    writer.end(RunState.COMPLETE, "", START.plus(now()));
  }

  RunReader reader() {
    return logbook.reader(writer.run());
  }

  Assessment assessed() {
    return Assessor.assess(reader());
  }

  @Override
  public void close() {
    writer.close();
    logbook.close();
  }
}
