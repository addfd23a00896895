// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.jar.JarEntry;
import java.util.jar.JarOutputStream;
import java.util.stream.Stream;
import javax.tools.ToolProvider;
import millrace.bench.Bench;
import millrace.bench.Table;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.fault.BadInputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The worked example of a driver class, compiled, put in a jar, and found in the drivers folder.
 */
class JavaDriverIT {
  private static final Path EXAMPLE = Path.of("examples/java-driver/src/main");
  private static final String SERVICE = "META-INF/services/millrace.bench.role.InstrumentDriver";

  @TempDir private Path folder;

  private Path drivers() throws IOException {
    return Files.createDirectories(folder.resolve("drivers"));
  }

  private void jar(String name, String service, boolean withClasses) throws IOException {
    Path classes = Files.createDirectories(folder.resolve("classes"));
    int failed =
        ToolProvider.getSystemJavaCompiler()
            .run(
                null,
                null,
                null,
                "-proc:none",
                "-cp",
                System.getProperty("java.class.path"),
                "-d",
                classes.toString(),
                EXAMPLE.resolve("java/example/PolynomialThermometer.java").toString());
    assertEquals(0, failed);
    try (OutputStream file = Files.newOutputStream(drivers().resolve(name));
        JarOutputStream jar = new JarOutputStream(file)) {
      jar.putNextEntry(new JarEntry(SERVICE));
      jar.write(service.getBytes(StandardCharsets.UTF_8));
      if (withClasses) {
        addClasses(classes, jar);
      }
    }
  }

  private static void addClasses(Path classes, JarOutputStream jar) throws IOException {
    List<Path> files;
    try (Stream<Path> all = Files.walk(classes)) {
      files = all.filter(Files::isRegularFile).toList();
    }
    for (Path file : files) {
      jar.putNextEntry(new JarEntry(classes.relativize(file).toString().replace('\\', '/')));
      jar.write(Files.readAllBytes(file));
    }
  }

  @Test
  void theWorkedExampleReadsThroughItsPolynomial() throws Exception {
    jar("thermometer.jar", Files.readString(EXAMPLE.resolve("resources/" + SERVICE)), true);
    try (Table table = new Table()) {
      var address =
          table.put(
              Table.Way.SOCKET,
              (line, mouth) ->
                  mouth.say(
                      switch (line) {
                        case "ID?" -> "poly\n";
                        case "COEF?" -> "-20;0.01;1e-7\n";
                        default -> "4000\n";
                      }));
      Bench bench =
          table.bench(
              "bench: b\ninstruments:\n  t: {driver: polynomial thermometer, address: '"
                  + address
                  + "', roles: {unit thermometer: {}}}\n",
              Drivers.load(drivers()),
              BenchOperator.NOBODY);
      Sensor sensor = bench.in(RoleName.UNIT_THERMOMETER, Sensor.class).orElseThrow();
      assertEquals(-20 + 40 + 1.6, ((Reply.Number) sensor.read()).value(), 1e-12);
      sensor.read();
      assertEquals(List.of("COEF?", "RAW?", "RAW?"), table.heard());
    }
  }

  @Test
  void aJarThatPromisesAClassItLacksIsNamed() throws Exception {
    jar("broken.jar", "example.Missing", false);
    String message =
        assertThrows(BadInputException.class, () -> Drivers.load(drivers())).getMessage();
    assertTrue(message.startsWith(drivers() + ": a driver class cannot be loaded: "), message);
    assertTrue(message.contains("example.Missing"), message);
  }
}
