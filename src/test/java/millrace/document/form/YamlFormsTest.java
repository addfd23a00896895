// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.fault.BadInputException;
import millrace.quantity.Dimension;
import org.junit.jupiter.api.Test;

class YamlFormsTest {
  private record Lamp(String name, double currentA, Optional<List<Double>> loadsOhm, boolean on) {}

  private static final YamlForm<Lamp> LAMP =
      YamlMapForm.of(
          "a lamp",
          map ->
              new Lamp(
                  map.required("name", YamlForms.text("a name"), "what it is called"),
                  map.required("current", Dimension.CURRENT, "what it takes"),
                  map.optional(
                      "loads",
                      YamlForms.list(YamlForms.quantity(Dimension.RESISTANCE), 1),
                      "in series"),
                  map.optional("on", YamlForms.yesNo(), false, "default no")));

  private static Lamp read(String yaml) {
    return LAMP.readFile("lamp.yaml", yaml.getBytes(UTF_8));
  }

  private static String refused(String yaml) {
    return assertThrows(BadInputException.class, () -> read(yaml)).getMessage();
  }

  @Test
  void readsWhatIsWritten() {
    assertEquals(
        new Lamp("desk", 1e-4, Optional.of(List.of(10.0, 4700.0)), true),
        read("name: desk\ncurrent: 100 \u00b5A\nloads: [10 ohm, 4.7 kohm]\non: yes\n"));
  }

  @Test
  void aSingleValueStandsForAListOfOne() {
    assertEquals(
        Optional.of(List.of(10.0)), read("{name: a, current: 1 A, loads: 10 ohm}").loadsOhm());
  }

  @Test
  void everyFaultIsReportedWithItsPlaceAndANearMiss() {
    assertEquals(
        """
        lamp.yaml:2:1: unknown key 'curent' in a lamp; expected 'name', 'current', 'loads' or 'on'. Did you mean 'current'?
        lamp.yaml:1:1: the key 'current' is missing; expected a current, as in '100 uA'. Add 'current: ...' (what it takes).
        lamp.yaml:4:5: '10' has no unit; expected a resistance, as in '4.7 kohm'. Write the unit behind the number.
        lamp.yaml:5:5: 'maybe' is not known here; expected 'yes', 'no', 'true' or 'false'.\
        """,
        refused("name: desk\ncurent: 1 A\nloads:\n- 10\non: maybe\n"));
  }

  @Test
  void aDoubledKeyNamesTheFirst() {
    assertEquals(
        "lamp.yaml:3:1: 'name' is given twice, first at line 1; expected once. Delete one.",
        refused("name: a\ncurrent: 1 A\nname: b\n"));
  }

  @Test
  void anEmptyFileIsRefused() {
    assertEquals(
        "lamp.yaml: the file is empty; expected keys with values. Check that this is the file you"
            + " meant.",
        refused("# nothing\n"));
  }

  @Test
  void aliasesTagsAndSeveralDocumentsAreRefused() {
    assertTrue(refused("name: &a x\ncurrent: 1 A\n").contains("anchors and aliases"));
    assertTrue(refused("name: !!javax.script.Engine x\ncurrent: 1 A\n").contains("no tags"));
    assertTrue(refused("name: x\ncurrent: 1 A\n---\nname: y\n").contains("one document"));
  }

  @Test
  void anAliasBombIsRefusedAtOnce() {
    StringBuilder bomb = new StringBuilder("a0: &a0 [x,x,x,x,x,x,x,x,x]\n");
    for (int i = 1; i < 30; i++) {
      bomb.append("a").append(i).append(": &a").append(i).append(" [");
      bomb.append("*a".concat(i - 1 + ",").repeat(9)).append("]\n");
    }
    assertTrue(refused(bomb.toString()).startsWith("lamp.yaml"));
  }

  @Test
  void deepNestingIsRefused() {
    assertTrue(refused("[".repeat(100_000)).contains("nest too deeply"));
    assertTrue(refused("- ".repeat(100_000)).contains("nest too deeply"));
    assertTrue(refused("a: ".concat("[".repeat(40) + "]".repeat(40))).contains("nest too deeply"));
  }

  @Test
  void bytesThatAreNoTextAreRefused() {
    byte[] bytes = {(byte) 0xff, (byte) 0xfe, 0, 1, 2};
    String message =
        assertThrows(BadInputException.class, () -> LAMP.readFile("lamp.yaml", bytes)).getMessage();
    assertTrue(message.startsWith("lamp.yaml: the file is not UTF-8 text"), message);
    assertTrue(refused("name: \u0000x").startsWith("lamp.yaml"));
  }

  @Test
  void theSchemaSaysTheSame() {
    Map<String, Object> schema = LAMP.schema(new java.util.HashMap<>());
    assertEquals(List.of("name", "current"), schema.get("required"));
    assertEquals(false, schema.get("additionalProperties"));
  }

  @Test
  void aKeyThatIsAskedForInSomeCasesOnlyIsNamedWhereverThatMatters() {
    YamlForm<Double> form =
        YamlMapForm.of(
            "a lamp",
            map ->
                map.optional("on", YamlForms.yesNo(), true, "default yes")
                    ? 1.0
                    : map.required("current", Dimension.CURRENT, "what it takes"));
    byte[] off = "on: no\n".getBytes(UTF_8);
    assertEquals(
        "key 'current' is asked for in some cases only",
        assertThrows(IllegalStateException.class, () -> form.readFile("lamp.yaml", off))
            .getMessage());
  }

  @Test
  void keysAreLearntThoughSamplesDoNotGoTogether() {
    YamlForm<Double> form =
        YamlMapForm.of(
            "a bracket",
            map -> {
              double from = map.required("from", Dimension.VOLTAGE, "lower end");
              double to = map.required("to", Dimension.VOLTAGE, "upper end");
              if (to <= from) {
                throw new IllegalArgumentException("a bracket without width");
              }
              return to - from;
            });
    assertEquals(2.0, form.readFile("b.yaml", "{from: 1 V, to: 3 V}".getBytes(UTF_8)));
    byte[] none = "{from: 1 V, to: 1 V}".getBytes(UTF_8);
    assertEquals(
        "b.yaml:1:1: a bracket without width.",
        assertThrows(BadInputException.class, () -> form.readFile("b.yaml", none)).getMessage());
  }

  @Test
  void aRequiredKeyWhoseFormHasNoSampleIsNamed() {
    YamlForm<Integer> refusing =
        YamlForms.map(YamlForms.text("digits"), text -> Integer.valueOf(text));
    YamlForm<Integer> form = YamlMapForm.of("a lamp", map -> map.required("n", refusing, "number"));
    assertEquals(
        "the form under the key 'n' has no sample",
        assertThrows(IllegalStateException.class, () -> form.schema(new java.util.HashMap<>()))
            .getMessage());
  }
}
