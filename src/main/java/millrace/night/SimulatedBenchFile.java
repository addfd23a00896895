// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.sim.SimulatedBench;

/** The bench file that matches a simulated bench: its addresses, its accuracy, its slots. */
public final class SimulatedBenchFile {
  private static final String TEMPLATE = "/millrace/night/simulated-bench.yaml";

  private SimulatedBenchFile() {}

  /** The addresses of a bench's sockets, by instrument. */
  public static Map<String, String> sockets(SimulatedBench bench) {
    Map<String, String> addresses = new LinkedHashMap<>();
    bench.ports().forEach((name, port) -> addresses.put(name, "tcp 127.0.0.1:" + port));
    return addresses;
  }

  /** The addresses of terminals, by instrument. */
  public static Map<String, String> terminals(Map<String, Path> paths) {
    Map<String, String> addresses = new LinkedHashMap<>();
    paths.forEach((name, path) -> addresses.put(name, "serial " + path));
    return addresses;
  }

  /**
   * The text of the file.
   *
   * @param addresses by instrument
   * @param positions the switch positions of the units
   */
  public static String text(Map<String, String> addresses, Collection<String> positions) {
    String text = template();
    for (Map.Entry<String, String> each : addresses.entrySet()) {
      text = text.replace("tcp 127.0.0.1:${" + each.getKey() + "}", each.getValue());
    }
    return text + slots(positions);
  }

  private static String slots(Collection<String> positions) {
    List<String> slots = new ArrayList<>();
    positions.forEach(p -> slots.add("'" + p + "': '" + p + "'"));
    return "slots: {" + String.join(", ", slots) + "}\n";
  }

  private static String template() {
    try (InputStream in = SimulatedBenchFile.class.getResourceAsStream(TEMPLATE)) {
      if (in == null) {
        throw new IllegalStateException("the program lacks its own file " + TEMPLATE);
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
