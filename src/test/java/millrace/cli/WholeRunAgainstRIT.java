// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import millrace.Needs;
import millrace.time.Seeds;
import millrace.verification.Digits;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Whole analyses, from a file of readings to the JSON, against the same computed by R (Debian:
 * r-base-core) from the same file with {@code lm} and plain sums.
 */
class WholeRunAgainstRIT {
  private static final Digits DIGITS =
      Digits.of(WholeRunAgainstRIT.class, Origin.RECOMPUTED, "R lm and sums");
  private static final double[] VISITS = {23, 35, 50, 41, 23, 10, -5, 2, 17, 23};

  @TempDir Path folder;
  private final SplittableRandom random = new Seeds(17).stream("readings");

  private Path file(String name, String header, java.util.stream.Stream<String> rows)
      throws IOException {
    StringBuilder text = new StringBuilder(header).append('\n');
    rows.forEach(r -> text.append(r).append('\n'));
    return Files.writeString(folder.resolve(name), text);
  }

  private static String row(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }

  private Path load() throws IOException {
    return file(
        "load.csv",
        "range,nominal_A,current_A,terminal_voltage_V,time_s,u_current_A",
        IntStream.range(0, 24)
            .mapToObj(
                k -> {
                  double v = 0.35 * (k < 12 ? k : 23.5 - k);
                  double u = (1 + k % 3) * 2e-10;
                  double i = 1.00002e-3 - 4e-9 * v + 2e-13 * k * 30 + u * random.nextGaussian();
                  return row("1mA,0.001,%.15g,%.3f,%d,%.3g", i, v, 30 * k, u);
                }));
  }

  private Path temperature() throws IOException {
    return file(
        "temperature.csv",
        "range,nominal_A,current_A,temperature_degC,time_s,u_current_A",
        IntStream.range(0, VISITS.length)
            .mapToObj(
                k -> {
                  double u = (1 + k % 2) * 3e-10;
                  double i =
                      1.00001e-3 * (1 + 2.1e-6 * (VISITS[k] - 23)) + u * random.nextGaussian();
                  return row("1mA,0.001,%.15g,%.1f,%d,%.3g", i, VISITS[k], 3600 * k, u);
                }));
  }

  private Path time() throws IOException {
    return file(
        "time.csv",
        "range,nominal_A,current_A,load_ohm,time_s",
        IntStream.range(0, 400)
            .mapToObj(
                k ->
                    row(
                        "1mA,0.001,%.15g,100,%d",
                        1e-3 * (1 + 1e-9 * k + 1e-6 * random.nextGaussian()), k)));
  }

  private static Map<String, Double> byR(Path... files) throws IOException, InterruptedException {
    return ByR.of("whole_run.R", Arrays.stream(files).map(Path::toString).toList());
  }

  private Map<String, Double> byMillrace(Path file) {
    String logbook = folder.resolve(file.getFileName() + ".db").toString();
    Spoken.done("import", file.toString(), "--logbook", logbook, "--quiet");
    Spoken analysed = Spoken.by("analyze", "1", "--logbook", logbook, "--json");
    Map<String, Double> found = new HashMap<>();
    for (JsonNode r : Schemas.json(analysed.out()).get("results")) {
      String tau = r.at("/at/tau_s").isNumber() ? " " + r.at("/at/tau_s").asInt() : "";
      String name = r.get("quantity").asText() + tau;
      if (r.get("value").isNumber()) {
        found.putIfAbsent(name, r.get("value").asDouble());
        found.putIfAbsent("u " + name, r.get("standard_uncertainty").asDouble());
      }
    }
    return found;
  }

  @Test
  void agreesToTheDigitsStated() throws IOException, InterruptedException {
    Needs.program("Rscript");
    Path load = load();
    Path temperature = temperature();
    Path time = time();
    Map<String, Double> r = byR(load, temperature, time);
    Map<String, Double> load1 = byMillrace(load);
    for (String name :
        new String[] {"output_conductance", "output_resistance", "load_regulation"}) {
      DIGITS.agree(name, r.get(name), load1.get(name), 1e-8);
    }
    DIGITS.agree("current", r.get("current"), load1.get("current"), 1e-12);
    DIGITS.agree("u(current)", r.get("u current"), load1.get("u current"), 1e-6);
    DIGITS.agree(
        "u(output_conductance)",
        r.get("u output_conductance"),
        load1.get("u output_conductance"),
        1e-6);
    Map<String, Double> temperature1 = byMillrace(temperature);
    for (String name : new String[] {"tempco", "tempco_box", "tempco_cold", "tempco_hot"}) {
      DIGITS.agree(name, r.get(name), temperature1.get(name), 1e-8);
    }
    DIGITS.agree("u(tempco)", r.get("u tempco"), temperature1.get("u tempco"), 1e-4);
    Map<String, Double> time1 = byMillrace(time);
    DIGITS.agree("drift", r.get("drift"), time1.get("drift"), 1e-8);
    for (int m = 1; m <= 32; m *= 2) {
      String name = "allan_deviation " + m;
      DIGITS.agree("allan_deviation at " + m + " s", r.get(name), time1.get(name), 1e-8);
    }
  }
}
