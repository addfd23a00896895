// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentMap;
import millrace.evidence.ComputationOutcome;
import millrace.quantity.NumberText;

/**
 * How often stated intervals hold the truth. The figures are asserted and written, as sorted lines
 * {@code quantity,sets,held in %,median of |error|/U}, to {@code target/coverage/<test>.csv}.
 */
public final class Held {
  private static final ConcurrentMap<String, Map<String, String>> ALL = new ConcurrentHashMap<>();

  private final String test;
  private final String quantity;
  private final List<Double> shares = new ArrayList<>();
  private int held;

  /** Counts one quantity for one test class. */
  public Held(Class<?> test, String quantity) {
    this.test = test.getSimpleName();
    this.quantity = quantity;
  }

  /** One data set with its truth. */
  public void add(double truth, ComputationOutcome outcome) {
    ComputationOutcome.Value value = (ComputationOutcome.Value) outcome;
    ComputationOutcome.Uncertainty u = value.uncertainty().orElseThrow();
    held += u.lower() <= truth && truth <= u.upper() ? 1 : 0;
    shares.add(Math.abs(value.value() - truth) / u.expanded());
  }

  /** Asserts that from 93.5 to 97.5 % were held, give or take three times what chance gives. */
  public void holdsAsStated() {
    holdsBetween(0.935, 0.975);
  }

  /** Asserts a range of shares, give or take three times what chance gives. */
  public void holdsBetween(double least, double most) {
    int n = shares.size();
    double share = (double) held / n;
    double chance = n >= 2000 ? 0 : 3 * Math.sqrt(0.05 * 0.95 / n);
    write(n, share);
    assertTrue(
        share >= least - chance && share <= most + chance,
        () -> "%s: %s of %s intervals held the truth".formatted(quantity, share, n));
  }

  private void write(int n, double share) {
    Collections.sort(shares);
    String line =
        "%s,%s,%s,%s"
            .formatted(
                quantity,
                n,
                NumberText.fixed(100 * share, 1),
                NumberText.fixed(shares.get(n / 2), 2));
    Map<String, String> mine = ALL.computeIfAbsent(test, t -> new TreeMap<>());
    synchronized (mine) {
      mine.put(quantity + n, line);
      try {
        Path folder = Files.createDirectories(Path.of("target", "coverage"));
        Files.write(folder.resolve(test + ".csv"), List.copyOf(mine.values()));
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
  }
}
