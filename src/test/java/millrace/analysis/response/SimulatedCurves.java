// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;

/**
 * Curves of a circuit simulator: {@code curves.csv}, made by {@code curves.sh} from the netlists
 * beside it with ngspice 39.3. A unit measures at every fourth voltage and near the knee; its
 * temperatures between the simulated ones are by the cubic through the four nearest.
 */
final class SimulatedCurves {
  private static final int EVERY = 4;
  private static final double NEAR_KNEE = 2e-4;

  /** A circuit: currents by temperature, degC, and voltage, V. */
  record Circuit(String name, double nominalA, TreeMap<Double, TreeMap<Double, Double>> currents) {
    List<Double> temperaturesDegC() {
      return List.copyOf(currents.keySet());
    }

    /** Voltages that are there at every temperature. */
    List<Double> voltagesV() {
      TreeSet<Double> common = new TreeSet<>(currents.firstEntry().getValue().keySet());
      currents.values().forEach(c -> common.retainAll(c.keySet()));
      return List.copyOf(common);
    }

    TrueCurve unit() {
      List<Double> all = voltagesV();
      List<Double> loads = new ArrayList<>();
      for (int i = 0; i < all.size(); i++) {
        boolean fallen = i > 0 && fall(all.get(i - 1), all.get(i)) > NEAR_KNEE;
        if (i % EVERY == 0 || fallen || i == all.size() - 1) {
          loads.add(all.get(i));
        }
      }
      return new TrueCurve(
          nominalA, loads.stream().mapToDouble(Double::doubleValue).toArray(), this::ratio);
    }

    private double fall(double below, double above) {
      TreeMap<Double, Double> hottest = currents.lastEntry().getValue();
      return (hottest.get(below) - hottest.get(above)) / nominalA;
    }

    /** I/I_N - 1, by the cubic through the four nearest temperatures. */
    double ratio(double volts, double degC) {
      List<Double> t = temperaturesDegC();
      int first = 0;
      while (first < t.size() - 4 && t.get(first + 2) < degC) {
        first++;
      }
      double sum = 0;
      for (int i = first; i < first + 4; i++) {
        double weight = 1;
        for (int j = first; j < first + 4; j++) {
          weight *= i == j ? 1 : (degC - t.get(j)) / (t.get(i) - t.get(j));
        }
        sum += weight * (currents.get(t.get(i)).get(volts) / nominalA - 1);
      }
      return sum;
    }
  }

  private SimulatedCurves() {}

  static List<Circuit> all() {
    Map<String, Circuit> circuits = new LinkedHashMap<>();
    for (String line : lines()) {
      String[] cells = line.split(",");
      circuits
          .computeIfAbsent(
              cells[0], name -> new Circuit(name, Double.parseDouble(cells[1]), new TreeMap<>()))
          .currents()
          .computeIfAbsent(Double.parseDouble(cells[2]), t -> new TreeMap<>())
          .put(Double.parseDouble(cells[3]), Double.parseDouble(cells[4]));
    }
    return List.copyOf(circuits.values());
  }

  private static List<String> lines() {
    try (InputStream in = SimulatedCurves.class.getResourceAsStream("curves.csv")) {
      List<String> all =
          new String(in.readAllBytes(), StandardCharsets.UTF_8).lines().skip(1).toList();
      return all;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
