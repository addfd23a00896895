// SPDX-License-Identifier: Apache-2.0
package millrace.architecture;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.evidence.RunOrigin;
import millrace.quantity.EnumWord;
import org.junit.jupiter.api.Test;

/** Closed families that are written as words. */
class EnumWordTest {
  private static final JavaClasses HOUSE =
      new ClassFileImporter()
          .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
          .importPackages("millrace");

  @Test
  void noTwoMembersOfAFamilyHaveOneWord() {
    List<? extends Class<?>> families =
        HOUSE.stream()
            .filter(c -> c.isEnum() && c.isAssignableTo(EnumWord.class))
            .map(JavaClass::reflect)
            .toList();
    assertTrue(families.size() >= 20, families.toString());
    for (Class<?> family : families) {
      Set<String> words = new HashSet<>();
      for (Object member : family.getEnumConstants()) {
        String word = ((EnumWord) member).text();
        assertTrue(!word.isBlank() && words.add(word), family + " " + word);
      }
    }
  }

  @Test
  void aMemberIsFoundByItsWordAlone() {
    assertEquals(Optional.of(RunOrigin.SIMULATED), EnumWord.find(RunOrigin.class, "simulated"));
    assertEquals(Optional.empty(), EnumWord.find(RunOrigin.class, "Simulated"));
    assertEquals(Optional.empty(), EnumWord.find(RunOrigin.class, ""));
  }
}
