// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import millrace.quantity.NumberText;

/** How often intervals held zero, the truth, and how wide they are beside twice the rms error. */
final class Counted {
  private final String what;
  private final List<Double> widths = new ArrayList<>();
  private double squares;
  private int held;

  Counted(String what) {
    this.what = what;
  }

  void add(double error, double expanded) {
    held += Math.abs(error) <= expanded ? 1 : 0;
    squares += error * error;
    widths.add(expanded);
  }

  double share() {
    return (double) held / widths.size();
  }

  /** Median U over twice the rms error, which known noise would give. */
  double width() {
    List<Double> sorted = new ArrayList<>(widths);
    sorted.sort(null);
    return sorted.get(sorted.size() / 2) / (2 * Math.sqrt(squares / widths.size()));
  }

  /**
   * Writes the figures down, and asserts them, give or take three times what chance gives.
   *
   * @param least share that must be held
   * @param widest U at most, in times of known noise
   */
  void holds(double least, double widest) {
    int n = widths.size();
    write("%s: %s %% of %s, U %s".formatted(what, fixed(100 * share(), 1), n, fixed(width(), 2)));
    double chance = 3 * Math.sqrt(least * (1 - least) / n);
    assertTrue(share() >= least - chance, () -> "%s: held %s".formatted(what, share()));
    double loose = 1 + 3 / Math.sqrt(2.0 * n);
    assertTrue(width() <= widest * loose, () -> "%s: U is %s times".formatted(what, width()));
  }

  private static String fixed(double value, int digits) {
    return NumberText.fixed(value, digits);
  }

  private static void write(String line) {
    try {
      Path folder = Files.createDirectories(Path.of("target", "coverage"));
      Files.writeString(
          folder.resolve("slow-noise.txt"),
          line + "\n",
          StandardOpenOption.CREATE,
          StandardOpenOption.APPEND);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
