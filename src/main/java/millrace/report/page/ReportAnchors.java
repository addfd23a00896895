// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.assessment.Assessment;
import millrace.datasheet.Datasheet;
import millrace.evidence.Point;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;

/**
 * Anchors of the parts of a report, for links between them; the same part always has the same
 * anchor.
 */
final class ReportAnchors {
  private final List<String> ranges;
  private final List<Group> groups;

  /**
   * A group of points: one range during one stay.
   *
   * @param range the range; empty for points without one
   * @param degC setpoint of the chamber; empty if none was set
   * @param visit number of the visit of that temperature, from 0
   */
  record Group(Optional<String> range, OptionalDouble degC, int visit) {
    static Group of(Point p) {
      return new Group(
          p.conditions().range(), p.conditions().temperatureDegC(), p.conditions().visit());
    }
  }

  ReportAnchors(Assessment assessment, List<Group> groups) {
    this.ranges = ranges(assessment);
    this.groups = List.copyOf(groups);
  }

  /** The ranges in the order of the datasheet, then any other measured range. */
  static List<String> ranges(Assessment assessment) {
    List<String> seen = new ArrayList<>();
    assessment.loads().forEach(l -> seen.add(l.range()));
    assessment.temperatures().forEach(t -> seen.add(t.range()));
    assessment.results().forEach(r -> r.range().ifPresent(seen::add));
    List<String> ordered = new ArrayList<>();
    Optional<Datasheet> datasheet = assessment.basis().datasheet();
    datasheet.ifPresent(d -> ordered.addAll(d.ranges().keySet()));
    ordered.retainAll(seen);
    seen.stream().filter(r -> !ordered.contains(r)).forEach(ordered::add);
    return ordered.stream().distinct().toList();
  }

  /** The anchor of the results of one range. */
  String results(Optional<String> range) {
    return "results" + (range.isEmpty() ? "-unit" : "-" + number(range.get()));
  }

  private int number(String range) {
    return ranges.indexOf(range) + 1;
  }

  /** The anchor of a chart of a range, by its kind. */
  String picture(String what, String range) {
    return what + "-" + number(range);
  }

  /** The anchor of the chart that shows a result; the chart may not exist in the report. */
  Optional<String> plot(Result r) {
    return r.range()
        .flatMap(
            range ->
                switch (r.quantity()) {
                  case OUTPUT_CONDUCTANCE, OUTPUT_RESISTANCE, LOAD_REGULATION ->
                      Optional.of(picture("plateau", range));
                  case COMPLIANCE_VOLTAGE, KNEE_VOLTAGE -> Optional.of(picture("knee", range));
                  case LINEARITY_INDEPENDENT,
                      LINEARITY_TERMINAL,
                      LINEARITY_ZERO,
                      LINEARITY_LEAST_SQUARES ->
                      Optional.of(picture("linearity", range));
                  case TEMPCO,
                      TEMPCO_BOX,
                      TEMPCO_QUADRATIC_A,
                      TEMPCO_QUADRATIC_B,
                      TEMPCO_COLD,
                      TEMPCO_HOT,
                      TURNOVER,
                      THERMAL_HYSTERESIS ->
                      Optional.of(picture("temperature", range));
                  case CURRENT, CURRENT_ERROR -> Optional.of(picture("response", range));
                  case DRIFT, NOISE_RMS, NOISE_PEAK_TO_PEAK, ALLAN_DEVIATION ->
                      Optional.of(picture("time", range));
                  default -> Optional.empty();
                });
  }

  /** The anchor of the points of a result, or of the first of them. */
  Optional<String> points(Result r) {
    if (r.range().isEmpty()) {
      return Optional.empty();
    }
    OptionalDouble degC = r.at().number(ResultConditionKey.TEMPERATURE_DEGC);
    return groups.stream()
        .filter(g -> g.range().equals(r.range()))
        .min(Comparator.comparingDouble(g -> apart(g, degC)))
        .map(this::points);
  }

  private static double apart(Group group, OptionalDouble degC) {
    return degC.isEmpty() || group.degC().isEmpty()
        ? 0
        : Math.abs(degC.getAsDouble() - group.degC().getAsDouble());
  }

  /** The anchor of the list of a group of points. */
  String points(Group group) {
    return "points-" + (groups.indexOf(group) + 1);
  }
}
