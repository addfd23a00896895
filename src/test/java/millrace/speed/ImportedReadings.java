// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.SplittableRandom;
import millrace.time.Seeds;

/** Files of readings of a sweep of loads, invented, of any length. */
final class ImportedReadings {
  private static final int READINGS_A_POINT = 10;
  private static final int LOADS = 20;

  private ImportedReadings() {}

  /** Writes so many readings into a file of the folder. */
  static Path written(Path folder, int n) throws IOException {
    Path file = folder.resolve("readings-" + n + ".csv");
    if (Files.exists(file)) {
      return file;
    }
    SplittableRandom random = new Seeds(3).stream("speed");
    try (BufferedWriter out = Files.newBufferedWriter(file)) {
      out.write("range,nominal_A,current_A,load_ohm,temperature_degC,time_s\n");
      for (int k = 0; k < n; k++) {
        int load = k / READINGS_A_POINT % LOADS;
        double i = 1e-3 * (1 - 1e-8 * load + 1e-6 * random.nextGaussian());
        out.write(String.format(Locale.ROOT, "1mA,0.001,%.12g,%d,23,%d%n", i, 50 * load, k));
      }
    }
    return file;
  }
}
