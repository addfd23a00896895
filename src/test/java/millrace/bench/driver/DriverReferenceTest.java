// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import millrace.bench.role.RoleName;
import org.junit.jupiter.api.Test;

/** The reference in drivers/README.md says what is true, and all of it. */
class DriverReferenceTest {
  private static final Path REFERENCE = Path.of("drivers/README.md");

  private static String example() throws Exception {
    String text = Files.readString(REFERENCE);
    int begin = text.indexOf("```yaml\n") + 8;
    return text.substring(begin, text.indexOf("```", begin));
  }

  @Test
  void theExampleIsADriverFile() throws Exception {
    DriverFile driver =
        DriverForms.DRIVER.readFile("README.md", example().getBytes(StandardCharsets.UTF_8));
    assertEquals(Set.of(RoleName.CURRENT_METER, RoleName.LOAD), driver.roles().keySet());
  }

  @Test
  @SuppressWarnings("unchecked")
  void everyKeyOfADriverFileIsInTheReference() throws Exception {
    Map<String, Object> properties =
        (Map<String, Object>)
            DriverForms.DRIVER.schema(new java.util.HashMap<>()).get("properties");
    Set<String> roles =
        java.util.Arrays.stream(RoleName.values()).map(RoleName::text).collect(Collectors.toSet());
    String text = example();
    Set<String> missing = new TreeSet<>(properties.keySet());
    missing.removeIf(key -> roles.contains(key) || ("\n" + text).contains("\n" + key + ":"));
    assertEquals(Set.of(), missing);
  }

  @Test
  void theTableNamesShippedDriversOnly() throws Exception {
    List<String[]> rows =
        Files.readString(REFERENCE)
            .lines()
            .filter(l -> l.startsWith("| ") && l.contains(".yaml |"))
            .map(l -> l.split(" *\\| *"))
            .toList();
    assertTrue(rows.size() > 5, () -> rows.size() + " rows");
    for (String[] row : rows) {
      Path file = Path.of("drivers", row[1]);
      DriverFile driver = DriverForms.DRIVER.readFile(file.toString(), Files.readAllBytes(file));
      assertEquals(row[2], driver.name(), row[1]);
    }
  }
}
