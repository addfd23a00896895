// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import java.util.ArrayList;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;

/**
 * What the readings of a sweep decided: which points are one load, which loads are plateau, by how
 * much errors were widened, what loads weigh in the fit of the knee. Trials draw about readings
 * that carry their noise already and would decide otherwise (methods.md 2.5). Thread-safe.
 */
final class SweepDecisions {
  private final PlacedLoads all;
  private final PlacedLoads plateau;
  private final boolean[] inLine;
  private final PlateauLine line;

  /** Empty until they are asked for. */
  private volatile double[] kneeWeightsA = {};

  /**
   * Keeps them.
   *
   * @param all loads in rising order
   * @param plateau those of the line
   * @param line through them
   */
  SweepDecisions(List<EqualLoadPoints> all, List<EqualLoadPoints> plateau, PlateauLine line) {
    this.all = new PlacedLoads(all);
    this.plateau = new PlacedLoads(plateau);
    this.line = line;
    Set<EqualLoadPoints> members = Collections.newSetFromMap(new IdentityHashMap<>());
    members.addAll(plateau);
    this.inLine = new boolean[all.size()];
    for (int i = 0; i < inLine.length; i++) {
      inLine[i] = members.contains(all.get(i));
    }
  }

  /** Loads, and where their points stand among perturbed ones: the same in every trial. */
  private static final class PlacedLoads {
    private final List<EqualLoadPoints> loads;
    private volatile Optional<int[][]> places = Optional.empty();

    PlacedLoads(List<EqualLoadPoints> loads) {
      this.loads = loads;
    }

    /** The loads of perturbed points; empty where one of them is missing. */
    Optional<List<EqualLoadPoints>> of(List<LoadPoint> moved) {
      Optional<int[][]> known = places;
      if (known.isEmpty() || !stand(moved, known.get())) {
        known = EqualLoadPoints.places(moved, loads);
        places = known;
      }
      return known.map(at -> EqualLoadPoints.again(moved, loads, at));
    }

    private boolean stand(List<LoadPoint> moved, int[][] at) {
      for (int g = 0; g < at.length; g++) {
        List<LoadPoint> points = loads.get(g).points();
        for (int k = 0; k < at[g].length; k++) {
          boolean there =
              at[g][k] < moved.size() && moved.get(at[g][k]).key().equals(points.get(k).key());
          if (!there) {
            return false;
          }
        }
      }
      return true;
    }

    int points() {
      int sum = 0;
      for (EqualLoadPoints load : loads) {
        sum += load.points().size();
      }
      return sum;
    }
  }

  /** The loads of perturbed points, and those of the line among them. */
  record Loads(List<EqualLoadPoints> all, List<EqualLoadPoints> plateau) {}

  Loads loads(List<LoadPoint> moved) {
    Optional<List<EqualLoadPoints>> same =
        moved.size() == all.points() ? all.of(moved) : Optional.empty();
    List<EqualLoadPoints> loads = same.orElseGet(() -> EqualLoadPoints.of(moved));
    List<EqualLoadPoints> members = new ArrayList<>(loads.size());
    for (int i = 0; i < loads.size(); i++) {
      if (same.isPresent() ? inLine[i] : inLine(loads.get(i))) {
        members.add(loads.get(i));
      }
    }
    return new Loads(loads, members);
  }

  private boolean inLine(EqualLoadPoints load) {
    String key = load.name();
    return plateau.loads.stream()
        .anyMatch(l -> l.points().stream().anyMatch(p -> p.key().equals(key)));
  }

  /** The line of perturbed points of the plateau. */
  PlateauLine line(List<EqualLoadPoints> loads) {
    return line.again(EqualLoadPoints.flat(loads));
  }

  /** What each steady load weighs in the fit of the knee, computed once, A. */
  double[] kneeWeightsA(Supplier<double[]> computed) {
    if (kneeWeightsA.length == 0) {
      kneeWeightsA = computed.get();
    }
    return kneeWeightsA;
  }

  /** The line of perturbed points, the plateau's among others; empty where one is missing. */
  Optional<PlateauLine> lineAmong(List<LoadPoint> moved) {
    return plateau.of(moved).map(this::line);
  }
}
