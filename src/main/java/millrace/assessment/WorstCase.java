package millrace.assessment;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Results;
import millrace.datasheet.Datasheet;
import millrace.datasheet.StatedLimit;
import millrace.evidence.At;
import millrace.evidence.AtKey;
import millrace.evidence.Limit;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;

/**
 * The worst current error among the points that lie inside the conditions of a limit
 * (measurement.md 7.1).
 */
final class WorstCase {
  private final Datasheet sheet;
  private final List<ReducedPoint> points;

  WorstCase(Datasheet sheet, List<ReducedPoint> points) {
    this.sheet = sheet;
    this.points = points;
  }

  List<Result> results() {
    List<Result> worst = new ArrayList<>();
    for (StatedLimit limit : sheet.limits()) {
      boolean box = limit.temperatureDegC().isPresent() || limit.terminalVoltageV().isPresent();
      if (limit.quantity() == ResultQuantity.CURRENT_ERROR && box) {
        for (Datasheet.Range range : sheet.ranges().values()) {
          if (limit.isFor(Optional.of(range.name()))) {
            worst(limit, range).ifPresent(worst::add);
          }
        }
      }
    }
    return worst;
  }

  private Optional<Result> worst(StatedLimit stated, Datasheet.Range range) {
    Limit limit = stated.limit(range.nominalA());
    ReducedPoint worst = null;
    double most = Double.NEGATIVE_INFINITY;
    int n = 0;
    for (ReducedPoint p : points) {
      if (p.range().equals(range.name()) && inside(stated, p)) {
        n++;
        double beyond = beyond(limit, ppm(p, range).value());
        if (beyond > most) {
          most = beyond;
          worst = p;
        }
      }
    }
    return worst == null ? Optional.empty() : Optional.of(result(worst, range, n));
  }

  private static double beyond(Limit limit, double value) {
    double below = limit.lower().isPresent() ? limit.lower().getAsDouble() - value : -1e300;
    double above = limit.upper().isPresent() ? value - limit.upper().getAsDouble() : -1e300;
    return Math.max(below, above);
  }

  private static Estimate ppm(ReducedPoint p, Datasheet.Range range) {
    return p.currentA().times(1e6 / range.nominalA()).plus(-1e6);
  }

  private static boolean inside(StatedLimit limit, ReducedPoint p) {
    double volts = Math.abs(p.voltageV().value());
    OptionalDouble supply = p.point().conditions().supplyV();
    boolean warm =
        limit.temperatureDegC().isEmpty()
            || p.temperatureDegC()
                .filter(t -> limit.temperatureDegC().get().contains(t.value(), 0))
                .isPresent();
    return warm
        && (limit.terminalVoltageV().isEmpty() || limit.terminalVoltageV().get().contains(volts, 0))
        && (limit.supplyV().isEmpty()
            || supply.isEmpty()
            || limit.supplyV().get().contains(supply.getAsDouble(), 0));
  }

  private Result result(ReducedPoint p, Datasheet.Range range, int n) {
    At at = At.of(AtKey.TERMINAL_VOLTAGE_V, rounded(Math.abs(p.voltageV().value()), 1e4));
    if (p.temperatureDegC().isPresent()) {
      at = at.with(AtKey.TEMPERATURE_DEGC, rounded(p.temperatureDegC().get().value(), 1e2));
    }
    return Results.value(
        new Results.Subject(
            ResultQuantity.CURRENT_ERROR,
            Optional.of(range.name()),
            at,
            Optional.of("I_N"),
            "the worst point inside the limit's conditions, measurement.md 7.1",
            sheet.coverage()),
        ppm(p, range),
        n,
        List.of("the worst of %s points inside the limit's conditions".formatted(n)));
  }

  private static double rounded(double value, double scale) {
    return Math.round(value * scale) / scale;
  }
}
