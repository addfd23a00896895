// SPDX-License-Identifier: Apache-2.0
package millrace.architecture;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaField;
import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import millrace.datasheet.Datasheet;
import org.junit.jupiter.api.Test;

/**
 * Nothing that a file may state is ignored: each component of a record that is filled from a
 * datasheet, a bench file, a sequence or a driver file is read by code that a command comes to.
 */
class KeysAreReadTest {
  private static final String PLANTED = "millrace.architecture.planted";

  private static final List<String> ROOMS =
      List.of("millrace.datasheet", "millrace.bench", "millrace.sequence");

  private static Reached commands() throws URISyntaxException {
    Path main =
        Path.of(Datasheet.class.getProtectionDomain().getCodeSource().getLocation().toURI());
    return Reached.from(new ClassFileImporter().importPath(main), "millrace.cli");
  }

  private static Stream<JavaField> components(JavaClass type) {
    return type.isRecord()
        ? type.getFields().stream().filter(f -> !f.getModifiers().contains(JavaModifier.STATIC))
        : Stream.empty();
  }

  @Test
  void everyComponentThatAFileFillsIsReadByMainCode() throws URISyntaxException {
    Reached reached = commands();
    List<JavaField> components =
        reached.classes().stream()
            .filter(c -> ROOMS.stream().anyMatch(c.getPackageName()::startsWith))
            .flatMap(KeysAreReadTest::components)
            .toList();

    assertTrue(components.size() > 300, () -> components.size() + " components");
    assertEquals(
        List.of(),
        components.stream()
            .filter(f -> !reached.reads(f))
            .map(JavaField::getFullName)
            .sorted()
            .toList());
  }

  @Test
  void aComponentThatNobodyReadsIsFound() {
    Reached reached = Reached.from(new ClassFileImporter().importPackages(PLANTED), PLANTED);

    assertEquals(
        List.of("ignored"),
        reached.classes().stream()
            .filter(c -> c.getSimpleName().equals("Stated"))
            .flatMap(KeysAreReadTest::components)
            .filter(f -> !reached.reads(f))
            .map(JavaField::getName)
            .toList());
  }
}
