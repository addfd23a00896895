// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Random;
import millrace.Needs;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * How much of the scatter each factor brings, as {@code compare --by} states it, against R on the
 * CSV that it exports: three benches crossed with four batches, groups of different size.
 */
class ScatterAgainstRIT {
  private static final List<String> BENCHES = List.of("north", "south", "west");
  private static final int BATCHES = 4;
  private static final int UNITS = 48;

  @TempDir private Path folder;

  /** Units whose current falls with the voltage as unit, bench and batch have it. */
  private Path readings() throws IOException {
    Random random = new Random(21);
    double[] bench = random.doubles(BENCHES.size(), -3e-6, 3e-6).toArray();
    double[] batch = random.doubles(BATCHES, -1e-6, 1e-6).toArray();
    StringBuilder csv =
        new StringBuilder("unit,bench,batch,range,nominal_A,terminal_voltage_V,current_A\n");
    for (int unit = 0; unit < UNITS; unit++) {
      int b = random.nextInt(BENCHES.size());
      int lot = unit * BATCHES / UNITS;
      double perV = bench[b] + batch[lot] + 0.7e-6 * random.nextGaussian();
      for (int v = 0; v <= 4; v++) {
        for (int k = 0; k < 2; k++) {
          double amps = 1e-3 * (1 - perV * v + 2e-8 * random.nextGaussian());
          csv.append("U%s,%s,B%s,1mA,0.001,%s,%s\n".formatted(unit, BENCHES.get(b), lot, v, amps));
        }
      }
    }
    return Files.writeString(folder.resolve("units.csv"), csv);
  }

  private static JsonNode sources(JsonNode document) {
    for (JsonNode each : document.at("/by_group/quantities")) {
      if (each.at("/quantity").asText().equals("load_regulation")) {
        return each.at("/sources_of_scatter");
      }
    }
    throw new IllegalArgumentException("not in " + document);
  }

  private static JsonNode source(JsonNode sources, String name) {
    for (JsonNode each : sources) {
      if (each.at("/source").asText().startsWith(name)) {
        return each;
      }
    }
    throw new IllegalArgumentException(name + " is not in " + sources);
  }

  @Test
  void componentsOfVarianceAreThoseOfR() throws IOException, InterruptedException {
    Needs.program("Rscript");
    String book = folder.resolve("a.db").toString();
    Path csv = folder.resolve("results.csv");
    assertEquals(0, Spoken.by("import", readings().toString(), "--logbook", book).code());
    String[] compare = {
      "compare",
      "--batch",
      "B0",
      "--batch",
      "B1",
      "--batch",
      "B2",
      "--batch",
      "B3",
      "--by",
      "bench,batch,operator",
      "--json",
      "--csv",
      csv.toString(),
      "--logbook",
      book
    };
    Spoken compared = Spoken.by(compare);
    assertEquals(0, compared.code(), compared.err());
    JsonNode sources = sources(Schemas.json(compared.out()));
    assertEquals(3, sources.size(), "bench, batch and the rest; all are of one operator");
    Map<String, Double> r =
        ByR.of("scatter.R", List.of(csv.toString(), "load_regulation", "1mA", "bench", "batch"));
    for (String name : List.of("bench", "batch", "rest")) {
      JsonNode ours = source(sources, name.equals("rest") ? "unit to unit" : name);
      assertEquals(r.get(name), ours.at("/standard_deviation").asDouble(), 2e-3 * r.get(name));
      double upper = r.get(name + " upper");
      assertEquals(upper, ours.at("/upper").asDouble(), 5e-3 * upper, name);
      assertEquals(r.get(name + " lower"), ours.at("/lower").asDouble(), 5e-3 * upper, name);
    }
    assertTrue(source(sources, "bench").at("/share_of_variance").asDouble() > 0.5);
  }
}
