// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.io.File;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import millrace.bench.BenchFile;
import millrace.bench.CableChargeTime;
import millrace.datasheet.Datasheet;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.run.journal.WarmUp;
import millrace.sequence.MeasuringRules.SoakRule;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.ReadingCount;
import millrace.sequence.Schedule;
import millrace.time.SystemClock;

/** Cautions before a plan is run, and its disk space. */
public final class PreviewCautions {
  /** Bytes per reading, from logbooks of a million readings. */
  private static final double BYTES_PER_READING = 55;

  /** Bytes per point, with its steps, incidents and results, from the demonstration's night. */
  private static final double BYTES_PER_POINT = 500;

  /** The tables of an empty logbook, and the files of a run. */
  private static final double BYTES_BESIDE = 0.25e6;

  private static final Optional<PointKind> RECORD = Optional.of(PointKind.TIME_SERIES);

  /** The write-ahead log during the run. */
  private static final double BYTES_OF_LOG = 8e6;

  /** At and below this current the wiring of the loop matters (methods.md 1.6), A. */
  private static final double SMALL_A = 1.001e-6;

  private static final double AMBIENT_DEGC = 23;
  private static final double AMBIENT_K = 5;

  private PreviewCautions() {}

  /** Points before the end of a warm-up are flagged. */
  public static Optional<String> warmUp(Datasheet datasheet, BenchFile bench) {
    List<WarmUp.Need> needs = WarmUp.needs(datasheet, bench);
    return needs.isEmpty()
        ? Optional.empty()
        : Optional.of(
            "Switch on in time: %s from power-on; points taken before are flagged."
                .formatted(String.join(", ", needs.stream().map(WarmUp.Need::text).toList())));
  }

  /** Instruments past their calibration date, each as a sentence without its end. */
  static List<String> overdue(BenchFile bench, Instant now) {
    LocalDate day = LocalDate.ofInstant(now, ZoneOffset.UTC);
    return bench.instruments().values().stream()
        .filter(e -> e.certificate().filter(c -> c.overdueOn(day)).isPresent())
        .map(
            e ->
                "'%s' is past its calibration date: due %s, certificate %s"
                    .formatted(
                        e.name(),
                        e.certificate().orElseThrow().due().orElseThrow(),
                        e.certificate().orElseThrow().number()))
        .toList();
  }

  /**
   * All cautions.
   *
   * @param plan the plan
   * @param schedule its times
   * @param bench the bench
   * @param logbook its logbook; need not exist
   * @return sentences; empty if there is none
   */
  public static List<String> of(Plan plan, Schedule schedule, BenchFile bench, Path logbook) {
    List<String> cautions = new ArrayList<>();
    cautions.add(disk(plan, schedule, bench, logbook));
    overdue(bench, new SystemClock().now()).forEach(text -> cautions.add("CAUTION: " + text + "."));
    cautions.addAll(small(plan, bench));
    List<Double> stays = plan.stays();
    stays.stream()
        .filter(t -> Math.abs(t - AMBIENT_DEGC) > AMBIENT_K)
        .findFirst()
        .filter(t -> t < AMBIENT_DEGC)
        .ifPresent(
            t ->
                cautions.add(
                    "CAUTION: the first temperature away from the room's is cold, %s: a hot leg before it dries air and unit."
                        .formatted(degC(t))));
    if (!stays.isEmpty() && stays.get(stays.size() - 1) < AMBIENT_DEGC - AMBIENT_K) {
      cautions.add(
          "CAUTION: the last temperature is %s: where that is below the room's dew point, the unit gets wet when the door is opened. End warmer."
              .formatted(degC(stays.get(stays.size() - 1))));
    }
    return cautions;
  }

  /**
   * For each range of a microampere or less: the charging time of the cable, and whether it is
   * guarded.
   */
  private static List<String> small(Plan plan, BenchFile bench) {
    Map<String, Double> highestOhm = new TreeMap<>();
    for (PlannedPoint p : plan.points()) {
      PointConditions c = p.conditions();
      if (c.range().isPresent() && Math.abs(c.nominalA().orElse(1)) <= SMALL_A) {
        highestOhm.merge(c.range().get(), c.loadOhm().orElse(0), Math::max);
      }
    }
    List<String> texts = new ArrayList<>();
    highestOhm.forEach((range, ohm) -> texts.add(small(range, ohm, bench.wiring())));
    return texts;
  }

  private static String small(String range, double ohm, BenchFile.Wiring wiring) {
    String settling =
        wiring.cableCapacitanceF() > 0
            ? "after a step to %s the cable charges for %s at least, and its insulation longer"
                .formatted(
                    QuantityText.print(ohm, Dimension.RESISTANCE, 3),
                    QuantityText.print(CableChargeTime.seconds(wiring, ohm), Dimension.TIME, 2))
            : "the bench file states no cable capacitance, so how long it charges is not known";
    return wiring.guarded()
        ? "Range %s: %s.".formatted(range, settling)
        : "CAUTION: range %s: the bench file says of no guard ('wiring: {guarded: yes}'); %s."
            .formatted(range, settling);
  }

  /**
   * The record over time from which slow noise is estimated, if results over temperature need one
   * (methods.md 5.10).
   *
   * @param plan the plan
   * @param schedule its times
   * @param logbook the logbook of earlier runs; need not exist
   * @return a sentence where this plan takes no record over time; empty where none is needed
   */
  public static Optional<String> slowNoise(Plan plan, Schedule schedule, Path logbook) {
    long temperatures = plan.stays().stream().distinct().count();
    boolean own = schedule.partsS().getOrDefault("watch", 0.0) > 0;
    if (temperatures < 2 || own) {
      return Optional.empty();
    }
    List<String> runs = recorded(logbook);
    return Optional.of(
        runs.isEmpty()
            ? "No record over time tells slow noise here: without one, of this unit and as long as"
                + " its visits lie apart, hysteresis has no U and results over temperature a"
                + " wider one. Add 'watch: {for: ...}' at T_ref with the line cycles of the"
                + " points and no 'every', here or in a run of its own."
            : "Slow noise is estimated from records over time; the logbook has some in run %s. The newest that fits is taken: of the same unit, else of another at the same meter; same range of the meter and line cycles, read as fast as points are."
                .formatted(String.join(", ", runs)));
  }

  private static List<String> recorded(Path logbook) {
    if (!Files.exists(logbook)) {
      return List.of();
    }
    try (Logbook book = Logbook.readOnly(logbook)) {
      return book.runs(RunFilter.ALL).stream()
          .filter(r -> !book.reader(r.id()).pointsOf(PointKind.TIME_SERIES).isEmpty())
          .map(r -> String.valueOf(r.id()))
          .toList();
    }
  }

  private static String degC(double t) {
    return QuantityText.print(t, Dimension.TEMPERATURE);
  }

  private static String disk(Plan plan, Schedule schedule, BenchFile bench, Path logbook) {
    double bytes = bytes(plan, schedule);
    File folder = logbook.toAbsolutePath().getParent().toFile();
    double free = folder.getUsableSpace();
    String text =
        "The logbook takes about %s; %s are free in this folder."
            .formatted(
                QuantityText.print(bytes, Dimension.DATA, 2),
                QuantityText.print(free, Dimension.DATA, 3));
    boolean little = free - bytes - BYTES_OF_LOG < bench.interlocks().freeDiskBytes().orElse(bytes);
    return little ? "CAUTION: little room is left. " + text : text;
  }

  private static double bytes(Plan plan, Schedule schedule) {
    boolean watched = schedule.partsS().getOrDefault("watch", 0.0) > 0;
    double readings =
        plan.points().stream()
            .filter(p -> watched || !p.task().kind().equals(RECORD))
            .mapToDouble(ReadingCount::of)
            .sum();
    double soaks = 2 * schedule.partsS().getOrDefault("soak", 0.0) / SoakRule.DEFAULT.everyS();
    return (readings + soaks) * BYTES_PER_READING
        + plan.points().size() * BYTES_PER_POINT
        + BYTES_BESIDE;
  }
}
