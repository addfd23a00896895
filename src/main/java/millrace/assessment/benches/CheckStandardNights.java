// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.benches;

import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.analysis.batch.Interval;
import millrace.analysis.batch.ReferenceUnitControlChart;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.basis.SharedRunInputs;
import millrace.assessment.benches.BenchHistory.Check;
import millrace.assessment.reduction.CheckStandardReading;
import millrace.assessment.screening.WithdrawnPoints;
import millrace.bench.BenchFile;
import millrace.fault.BadInputException;
import millrace.logbook.CheckStandardLook;
import millrace.logbook.CheckStandardReader;
import millrace.logbook.FileRole;
import millrace.logbook.JudgedRunReader;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;
import millrace.quantity.NumberText;

/**
 * What nights read of check standards, night after night, each held against what meter and standard
 * are stated to be known to and against the chart of the nights before it (methods.md 8.3). Single-
 * threaded.
 */
final class CheckStandardNights {
  private static final double PPM = 1e6;

  /** Beyond so many standard uncertainties one of the two is off. */
  private static final double STATED = 2;

  private final Logbook book;
  private final SharedRunInputs shared = new SharedRunInputs();
  private final Map<Where, Map<Instant, Night>> nights = new LinkedHashMap<>();

  /** What is charted together. */
  record Where(String bench, String standard, String meterRange) {
    String words() {
      return "check standard '%s'%s"
          .formatted(standard, meterRange.isEmpty() ? "" : " on " + meterRange);
    }
  }

  /**
   * The looks of a night, of its first run: the runs of several units share them.
   *
   * @param run the run
   * @param looks ratios of reading to standard, less 1
   */
  private record Night(RunSummary run, List<Estimate> looks) {}

  /**
   * Reads the nights.
   *
   * @param book where they are
   * @param runs of real benches, in the order of time
   * @param benches the bench of each run, by its number
   */
  CheckStandardNights(Logbook book, List<RunSummary> runs, Map<Long, String> benches) {
    this.book = book;
    Map<Long, List<CheckStandardLook>> byRun =
        CheckStandardReader.of(book).stream()
            .collect(
                Collectors.groupingBy(
                    CheckStandardLook::run, LinkedHashMap::new, Collectors.toList()));
    List<RunSummary> looking = runs.stream().filter(r -> byRun.containsKey(r.id())).toList();
    Set<Long> withdrawn = new JudgedRunReader(book).withdrawn(looking);
    looking.stream()
        .filter(r -> !withdrawn.contains(r.id()))
        .forEach(r -> add(r, benches.getOrDefault(r.id(), ""), byRun.get(r.id())));
  }

  private void add(RunSummary run, String bench, List<CheckStandardLook> looks) {
    RunReader reader = book.reader(run.id());
    Set<Long> out = WithdrawnPoints.of(reader, new ArrayList<>());
    Optional<BenchFile> file = benchFile(reader);
    for (CheckStandardLook look : looks) {
      if (!out.contains(look.point())) {
        Night night =
            nights
                .computeIfAbsent(
                    new Where(bench, look.standard(), look.meterRange()),
                    w -> new LinkedHashMap<>())
                .computeIfAbsent(run.start().startedAt(), at -> new Night(run, new ArrayList<>()));
        if (night.run().id() == run.id()) {
          file.flatMap(b -> CheckStandardReading.ratio(b, look)).ifPresent(night.looks()::add);
        }
      }
    }
  }

  /** Empty also where it is no longer understood: such a night is not judged. */
  private Optional<BenchFile> benchFile(RunReader reader) {
    try {
      return reader.files().stream()
          .filter(f -> f.role() == FileRole.BENCH)
          .reduce((a, b) -> b)
          .map(f -> shared.bench(reader, f.name(), f.sha256()));
    } catch (BadInputException e) {
      return Optional.empty();
    }
  }

  /**
   * The charts.
   *
   * @return a check for each night, in the order of time
   */
  Map<Where, List<Check>> charts() {
    Map<Where, List<Check>> charts = new LinkedHashMap<>();
    nights.forEach((where, each) -> charts.put(where, charted(where, List.copyOf(each.values()))));
    return charts;
  }

  private static List<Check> charted(Where where, List<Night> nights) {
    List<Double> good = new ArrayList<>();
    List<Check> checks = new ArrayList<>();
    for (Night night : nights) {
      if (night.looks().isEmpty()) {
        checks.add(unknown(night));
        continue;
      }
      Estimate mean = Estimate.mean(night.looks());
      double ppm = mean.value() * PPM;
      Optional<Interval> allowed =
          ReferenceUnitControlChart.limits(
              good.stream().mapToDouble(Double::doubleValue).toArray(), 1);
      double uPpm = mean.standardUncertainty() * PPM;
      List<String> findings = findings(where, ppm, uPpm, allowed);
      checks.add(
          new Check(
              night.run(),
              findings,
              share(ppm, allowed),
              OptionalDouble.of(ppm),
              open(uPpm, allowed, good.size())));
      if (findings.isEmpty() && good.size() < ReferenceUnitControlChart.MOST) {
        good.add(ppm);
      }
    }
    return checks;
  }

  private static Check unknown(Night night) {
    return new Check(
        night.run(),
        List.of(),
        OptionalDouble.empty(),
        OptionalDouble.empty(),
        Optional.of(
            "its bench file does not tell what the standard drives, or its certificate does not"
                + " reach the reading"));
  }

  private static Optional<String> open(double uPpm, Optional<Interval> allowed, int learnt) {
    return uPpm > 0 || allowed.isPresent()
        ? Optional.empty()
        : Optional.of(
            "its chart knows %s of %s nights, and the bench file of the run states nothing that it could be held against"
                .formatted(learnt, ReferenceUnitControlChart.FEWEST));
  }

  private static List<String> findings(
      Where where, double ppm, double uPpm, Optional<Interval> allowed) {
    List<String> findings = new ArrayList<>();
    if (uPpm > 0 && Math.abs(ppm) > STATED * uPpm) {
      findings.add(
          "%s is read %s ppm off what it drives, beyond the %s ppm that meter and standard are known to"
              .formatted(where.words(), figure(ppm), figure(STATED * uPpm)));
    }
    allowed
        .filter(i -> ppm < i.lower() || ppm > i.upper())
        .ifPresent(
            i ->
                findings.add(
                    "%s is read %s ppm off what it drives, its chart allows %s to %s ppm"
                        .formatted(
                            where.words(), figure(ppm), figure(i.lower()), figure(i.upper()))));
    return findings;
  }

  private static OptionalDouble share(double ppm, Optional<Interval> allowed) {
    return allowed.stream()
        .filter(i -> i.upper() > i.lower())
        .mapToDouble(i -> Math.abs(2 * ppm - i.lower() - i.upper()) / (i.upper() - i.lower()))
        .findFirst();
  }

  private static String figure(double ppm) {
    return NumberText.significant(ppm, 3);
  }
}
