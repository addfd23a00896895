// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.history;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import millrace.analysis.ageing.DriftLine;
import millrace.analysis.ageing.LimitForecast;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.Assessment;
import millrace.assessment.history.RangeHistory.Drift;
import millrace.assessment.history.RangeHistory.Forecast;
import millrace.assessment.history.RangeHistory.Visit;
import millrace.evidence.Result;
import millrace.logbook.RunSummary;
import millrace.quantity.NumberText;

/** Drift of one range and when it leaves its limits (methods.md 13), or why nothing is told yet. */
final class RangeDrift {
  private static final double DAYS_PER_YEAR = 365.25;

  /** Ageing shows over months; what days tell is not carried ahead (common practice, no source). */
  private static final double LEAST_SPAN_DAYS = 30;

  private final UnitRuns runs;
  private final double coverage;
  private final List<Visit> visits;
  private final List<Result> results;

  /** The visits of a range with the result of each. */
  RangeDrift(UnitRuns runs, double coverage, List<Visit> visits, List<Result> results) {
    this.runs = runs;
    this.coverage = coverage;
    this.visits = visits;
    this.results = results;
  }

  RangeHistory history(String range) {
    List<Integer> counting = new ArrayList<>();
    for (int i = 0; i < visits.size(); i++) {
      if (visits.get(i).counts()) {
        counting.add(i);
      }
    }
    Optional<String> none = tooFew(counting);
    Optional<Drift> drift = none.isPresent() ? Optional.empty() : Optional.of(drift(counting));
    List<Forecast> forecasts = new ArrayList<>();
    Optional<String> noForecast = noForecast(range, drift, counting, forecasts);
    Result last = results.get(results.size() - 1);
    return new RangeHistory(range, last.at(), visits, drift, none, forecasts, noForecast);
  }

  private Optional<String> tooFew(List<Integer> counting) {
    long days = counting.stream().map(i -> Math.floor(visits.get(i).day())).distinct().count();
    if (days < DriftLine.FEWEST) {
      return Optional.of(
          "tells nothing yet: there are visits on %s; three are the least"
              .formatted(NumberText.counted(days, "day")));
    }
    boolean own = estimates(counting).stream().allMatch(e -> e.pointUncertainty() > 0);
    return own
        ? Optional.empty()
        : Optional.of("tells nothing: a visit states no uncertainty of its own");
  }

  private List<Estimate> estimates(List<Integer> counting) {
    return new VisitErrors(runs.book()).of(summaries(counting), chosen(counting));
  }

  private List<RunSummary> summaries(List<Integer> counting) {
    return counting.stream().map(i -> visits.get(i).run().run()).toList();
  }

  private List<Result> chosen(List<Integer> counting) {
    return counting.stream().map(results::get).toList();
  }

  private Drift drift(List<Integer> counting) {
    VisitErrors errors = new VisitErrors(runs.book());
    List<Estimate> y = errors.of(summaries(counting), chosen(counting));
    double[] days = counting.stream().mapToDouble(i -> visits.get(i).day()).toArray();
    DriftLine line = DriftLine.of(days, y);
    Estimate perYear = line.slopePerDay().times(DAYS_PER_YEAR);
    return new Drift(
        line,
        perYear.value(),
        Budget.of(perYear).uncertainty(coverage),
        days.length,
        errors.sameInstruments());
  }

  /** Fills in the forecasts, or says why there is none. */
  private Optional<String> noForecast(
      String range, Optional<Drift> drift, List<Integer> counting, List<Forecast> into) {
    if (drift.isEmpty()) {
      return Optional.of("no drift is known");
    }
    if (!UnitHistory.workSince(runs.all()).isEmpty()) {
      return Optional.of("the unit was repaired after its last visit");
    }
    double first = visits.get(counting.get(0)).day();
    Visit last = visits.get(counting.get(counting.size() - 1));
    double span = last.day() - first;
    if (span < LEAST_SPAN_DAYS) {
      return Optional.of(
          "the visits lie within %s days; ageing shows over %s days or more"
              .formatted((int) Math.ceil(span), (int) LEAST_SPAN_DAYS));
    }
    Optional<Assessment> assessed = runs.assessed(last.run());
    List<LimitReach> limits = assessed.map(a -> LimitReach.of(a, range)).orElse(List.of());
    for (LimitReach limit : limits) {
      into.add(forecast(drift.get(), limit, last.day(), span));
    }
    return into.isEmpty()
        ? Optional.of("its datasheet has no limit on its current that can be computed")
        : Optional.empty();
  }

  private static Forecast forecast(Drift drift, LimitReach limit, double last, double span) {
    LimitForecast computed =
        new LimitForecast(drift.line(), limit.limit(), limit.toLower(), limit.toUpper());
    OptionalInt sure = computed.sureFor(last, last + span);
    OptionalDouble leaves = drift.significant() ? computed.leaves(last) : OptionalDouble.empty();
    return new Forecast(
        limit.limit(),
        limit.when(),
        computed,
        computed.ahead(),
        leaves.isPresent() ? Optional.of(date(leaves.getAsDouble())) : Optional.empty(),
        date(last + span),
        sure.isPresent() ? Optional.of(date(last + sure.getAsInt())) : Optional.empty(),
        limit.wanting().isEmpty()
            ? Optional.empty()
            : Optional.of(
                "only under the conditions that were measured; for all of them "
                    + String.join(", ", limit.wanting())));
  }

  /** The day begun, so that no day is promised that lies beyond. */
  private static LocalDate date(double day) {
    return LocalDate.ofEpochDay((long) Math.floor(day));
  }
}
