// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;

/**
 * What follows from numbers, means and variances of values by bench and batch, all groups of one
 * size: the textbook formulas of process performance (ISO 22514-2) and of the analysis of variance
 * of two crossed factors without interaction (Searle, Casella and McCulloch, Variance Components,
 * 1992, 4.3; from memory), which restricted likelihood agrees with in balanced data.
 *
 * @param groups of one quantity
 */
record BalancedGroups(List<Group> groups) {
  /** One bench and batch, as an engine answers. */
  record Group(
      String quantity,
      String bench,
      String batch,
      long n,
      double mean,
      double variance,
      double lower,
      double upper) {
    static Group of(String row, String between) {
      String[] cells = row.split(between);
      return new Group(
          cells[0],
          cells[1],
          cells[2],
          Long.parseLong(cells[3]),
          Double.parseDouble(cells[4]),
          Double.parseDouble(cells[5]),
          Double.parseDouble(cells[6]),
          Double.parseDouble(cells[7]));
    }
  }

  BalancedGroups {
    assertEquals(1, groups.stream().map(Group::n).distinct().count());
  }

  double n() {
    return groups.stream().mapToDouble(Group::n).sum();
  }

  double mean() {
    return groups.stream().mapToDouble(Group::mean).average().orElseThrow();
  }

  private double squares() {
    double mean = mean();
    return groups.stream()
        .mapToDouble(g -> (g.n() - 1) * g.variance() + g.n() * Math.pow(g.mean() - mean, 2))
        .sum();
  }

  double sd() {
    return Math.sqrt(squares() / (n() - 1));
  }

  double ppk() {
    double room = Math.min(groups.get(0).upper() - mean(), mean() - groups.get(0).lower());
    return room / (3 * sd());
  }

  /** Standard deviations: of 'bench', of 'batch', and of the rest under an empty name. */
  Map<String, Double> components() {
    Between bench = between(Group::bench);
    Between batch = between(Group::batch);
    double rest =
        (squares() - bench.squares() - batch.squares())
            / (n() - 1 - bench.freedom() - batch.freedom());
    return Map.of(
        "bench", bench.component(rest), "batch", batch.component(rest), "", Math.sqrt(rest));
  }

  /** Sum of squares and degrees of freedom between levels, with the number of values of each. */
  private record Between(double squares, double freedom, double each) {
    double component(double rest) {
      return Math.sqrt((squares / freedom - rest) / each);
    }
  }

  private Between between(Function<Group, String> factor) {
    Map<String, Double> means =
        groups.stream()
            .collect(Collectors.groupingBy(factor, Collectors.averagingDouble(Group::mean)));
    double mean = mean();
    double each = n() / means.size();
    double squares = each * means.values().stream().mapToDouble(m -> Math.pow(m - mean, 2)).sum();
    return new Between(squares, means.size() - 1.0, each);
  }
}
