// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import millrace.quantity.ClosedInterval;

/** Finds the domain of a response (methods.md 11.4). */
final class ResponseDomainFinder {
  private ResponseDomainFinder() {}

  static ResponseValidityDomain of(ResponseFitPoints m, double referenceDegC) {
    List<Double> visits = m.visits().stream().map(v -> v.t() + referenceDegC).sorted().toList();
    double low = m.places().stream().mapToDouble(ResponseTerms.Place::v).min().orElse(0);
    double high = m.places().stream().mapToDouble(ResponseTerms.Place::v).max().orElse(0);
    return new ResponseValidityDomain(
        visits,
        new ClosedInterval(visits.get(0), visits.get(visits.size() - 1)),
        corners(m, referenceDegC),
        new ClosedInterval(low, high),
        supplies(m));
  }

  private static Optional<ClosedInterval> supplies(ResponseFitPoints m) {
    double[] sorted =
        m.points().stream()
            .flatMap(p -> p.supplyV().stream().boxed())
            .mapToDouble(Double::doubleValue)
            .sorted()
            .toArray();
    return sorted.length == 0
        ? Optional.empty()
        : Optional.of(new ClosedInterval(sorted[0], sorted[sorted.length - 1]));
  }

  /** The edges of visits, merged for visits to one temperature. */
  private static List<ResponseValidityDomain.Corner> corners(
      ResponseFitPoints m, double referenceDegC) {
    List<ResponseValidityDomain.Corner> all = new ArrayList<>();
    for (ResponseFitPoints.Visit visit : m.visits()) {
      RangeMeasurements.Edge edge = m.data().edges().get(visit.number());
      if (edge != null) {
        all.add(corner(m, visit, edge, referenceDegC));
      }
    }
    all.sort(Comparator.comparingDouble(ResponseValidityDomain.Corner::temperatureDegC));
    List<ResponseValidityDomain.Corner> joined = new ArrayList<>();
    for (ResponseValidityDomain.Corner next : all) {
      ResponseValidityDomain.Corner last = joined.isEmpty() ? null : joined.get(joined.size() - 1);
      if (last != null
          && next.temperatureDegC() - last.temperatureDegC() <= ResponseFitPoints.SAME_K) {
        joined.set(joined.size() - 1, together(last, next));
      } else {
        joined.add(next);
      }
    }
    return joined;
  }

  /**
   * If the compliance voltage was not reached, the highest voltage used there; if a soft onset
   * ended the points before the edge, its last voltage.
   */
  private static ResponseValidityDomain.Corner corner(
      ResponseFitPoints m,
      ResponseFitPoints.Visit visit,
      RangeMeasurements.Edge edge,
      double referenceDegC) {
    double used = 0;
    for (int i : visit.members()) {
      used = Math.max(used, Math.abs(m.places().get(i).v()));
    }
    double measured = 0;
    for (ResponsePoint p : m.data().points()) {
      double v = Math.abs(p.voltageV().value());
      boolean inside = p.visit() == visit.number() && v <= edge.upToV() * (1 + 1e-9);
      measured = inside ? Math.max(measured, v) : measured;
    }
    boolean onset = used < (1 - ResponseFitPoints.SAME_LOAD) * measured;
    double upTo = edge.reached() && !onset ? edge.upToV() : used;
    return new ResponseValidityDomain.Corner(
        visit.t() + referenceDegC, upTo, edge.reached() || onset);
  }

  /** A reached edge has priority, the lower of two; of two bounds the tighter one counts. */
  private static ResponseValidityDomain.Corner together(
      ResponseValidityDomain.Corner a, ResponseValidityDomain.Corner b) {
    if (a.reached() != b.reached()) {
      return a.reached() ? a : b;
    }
    boolean first = a.reached() == (a.upToV() < b.upToV());
    return first ? a : b;
  }
}
