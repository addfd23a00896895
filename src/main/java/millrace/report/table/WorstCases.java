// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.report.words.LimitMargin;
import millrace.report.words.ResultFigures;

/**
 * Worst case of each range and quantity, one row per range and one column per quantity. Of judged
 * results it is the worst against its limit. Otherwise it is the largest in size, or the smallest
 * where less is worse.
 */
final class WorstCases {
  /** Quantities shown without a datasheet. */
  private static final List<ResultQuantity> USUAL =
      List.of(
          ResultQuantity.CURRENT_ERROR,
          ResultQuantity.LOAD_REGULATION,
          ResultQuantity.TEMPCO,
          ResultQuantity.COMPLIANCE_VOLTAGE,
          ResultQuantity.OUTPUT_RESISTANCE,
          ResultQuantity.DRIFT,
          ResultQuantity.NOISE_RMS,
          ResultQuantity.SUPPLY_REGULATION,
          ResultQuantity.THERMAL_HYSTERESIS,
          ResultQuantity.SETTLING_TIME,
          ResultQuantity.OFF_LEAKAGE);

  private static final int WIDTH = 80;
  private static final int GAP = 2;
  private static final String NONE = "-";

  private final List<Result> results;
  private boolean failed;
  private boolean open;
  private boolean none;

  private WorstCases(List<Result> results) {
    this.results = results;
  }

  static String table(List<Result> results) {
    return new WorstCases(results).text();
  }

  private String text() {
    List<Optional<String>> ranges = ranges();
    List<List<String>> columns = new ArrayList<>();
    List<String> first = new ArrayList<>(List.of("range", ""));
    ranges.forEach(r -> first.add(r.orElseThrow()));
    columns.add(first);
    int width = widest(first);
    for (ResultQuantity quantity : quantities()) {
      List<String> column = column(quantity, ranges);
      width += GAP + widest(column);
      if (width > WIDTH) {
        break;
      }
      columns.add(column);
    }
    return columns.size() < 2 || ranges.isEmpty() ? "" : lines(columns) + legend(columns);
  }

  /** The ranges of the unit; results of the whole unit have no row. */
  private List<Optional<String>> ranges() {
    return results.stream().map(Result::range).filter(Optional::isPresent).distinct().toList();
  }

  /** The limited quantities in the order of the pages, then the usual ones. */
  private List<ResultQuantity> quantities() {
    Set<ResultQuantity> limited = new TreeSet<>();
    results.stream().filter(r -> r.judgement().isPresent()).forEach(r -> limited.add(r.quantity()));
    Set<ResultQuantity> all = new LinkedHashSet<>(limited);
    USUAL.stream().filter(this::known).forEach(all::add);
    return List.copyOf(all);
  }

  private boolean known(ResultQuantity quantity) {
    return results.stream()
        .anyMatch(
            r -> r.quantity() == quantity && !(r.outcome() instanceof ComputationOutcome.Missing));
  }

  private List<String> column(ResultQuantity quantity, List<Optional<String>> ranges) {
    boolean scaled = !quantity.unit().startsWith("ppm") && !quantity.unit().equals("V");
    List<String> column = new ArrayList<>();
    column.add(quantity.inWords());
    column.add(scaled ? "" : quantity.unit());
    ranges.forEach(r -> column.add(field(quantity, r, scaled)));
    return column;
  }

  private String field(ResultQuantity quantity, Optional<String> range, boolean scaled) {
    List<Result> here =
        results.stream().filter(r -> r.quantity() == quantity && r.range().equals(range)).toList();
    Optional<Result> worst =
        here.stream()
            .filter(r -> r.judgement().isPresent())
            .min(LimitMargin.worstFirst())
            .or(() -> unjudged(quantity, here));
    return worst.map(r -> stated(r, scaled) + mark(r)).orElse(NONE);
  }

  private static Optional<Result> unjudged(ResultQuantity quantity, List<Result> here) {
    boolean lessIsWorse =
        quantity == ResultQuantity.COMPLIANCE_VOLTAGE
            || quantity == ResultQuantity.OUTPUT_RESISTANCE;
    Comparator<Result> bySize = Comparator.comparingDouble(WorstCases::size);
    return here.stream()
        .filter(r -> !(r.outcome() instanceof ComputationOutcome.Missing))
        .max(lessIsWorse ? bySize.reversed() : bySize);
  }

  private static double size(Result r) {
    return r.outcome() instanceof ComputationOutcome.Value v
        ? Math.abs(v.value())
        : r.outcome() instanceof ComputationOutcome.Bound b ? Math.abs(b.value()) : 0;
  }

  private static String stated(Result r, boolean scaled) {
    if (r.outcome() instanceof ComputationOutcome.Value v) {
      OptionalDouble u =
          v.uncertainty().map(x -> OptionalDouble.of(x.expanded())).orElse(OptionalDouble.empty());
      String pair =
          scaled || u.isEmpty() || u.getAsDouble() == 0
              ? ResultFigures.inWords(r).replace(", uncertainty not evaluated", "")
              : QuantityText.withUncertainty(v.value(), u.getAsDouble(), "");
      return pair.replace("(", "").replace(")", "");
    }
    return r.outcome() instanceof ComputationOutcome.Bound b && !scaled
        ? b.side().text() + " " + NumberText.significant(b.value(), 3)
        : ResultFigures.stated(r).orElse(NONE);
  }

  private String mark(Result r) {
    Optional<Conformity> found = r.judgement().map(j -> j.conformity());
    if (r.judgement().filter(j -> j.failed()).isPresent()) {
      failed = true;
      return " !";
    }
    if (found.filter(c -> c == Conformity.NOT_EVALUATED).isPresent()) {
      open = true;
      return " ?";
    }
    return "";
  }

  private static int widest(List<String> column) {
    return column.stream().mapToInt(String::length).max().orElse(0);
  }

  private static String lines(List<List<String>> columns) {
    StringBuilder text = new StringBuilder();
    for (int row = 0; row < columns.get(0).size(); row++) {
      StringBuilder line = new StringBuilder();
      for (List<String> column : columns) {
        String cell = column.get(row);
        line.append(cell).append(" ".repeat(widest(column) - cell.length() + GAP));
      }
      text.append(line.toString().stripTrailing()).append('\n');
    }
    return text.toString();
  }

  private String legend(List<List<String>> columns) {
    columns.forEach(
        c -> none |= c.stream().anyMatch(s -> s.startsWith(NONE + " ") || s.equals(NONE)));
    List<String> words = new ArrayList<>();
    words.add("worst case of each range \u00b1 U");
    if (failed) {
      words.add("! not met");
    }
    if (open) {
      words.add("? not evaluated");
    }
    if (none) {
      words.add("- not computed");
    }
    return String.join("; ", words) + "\n";
  }
}
