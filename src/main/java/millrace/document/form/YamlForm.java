// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.Map;
import java.util.Optional;
import millrace.document.yaml.Node;
import millrace.document.yaml.YamlFile;
import millrace.fault.InputFaultList;

/**
 * The form of a part of a file: it reads a node into a value, collects every fault with its place,
 * and prints the same rule as JSON Schema, so that reader and schema always agree.
 *
 * <p>Forms are made with {@link YamlForms} and {@link YamlMapForm}. Immutable and thread-safe.
 *
 * @param <T> what is read
 */
public interface YamlForm<T> {
  /**
   * Reads a node.
   *
   * @param node the node of the file
   * @param faults takes every fault of it
   * @return the value; empty if at least one fault was added
   */
  Optional<T> read(Node node, InputFaultList faults);

  /**
   * The same rule in JSON Schema (draft 2020-12).
   *
   * @param defs takes the definitions that the rule refers to, by name
   * @return the schema as nested maps, lists and values
   */
  Map<String, Object> schema(Map<String, Object> defs);

  /**
   * What is expected here, for messages.
   *
   * @return for example {@code a current, as in '100 uA'}
   */
  String inWords();

  /**
   * A sample value of this form. {@link YamlMapForm} uses it to determine the keys of a map; it
   * never becomes part of a value read.
   *
   * @return any value
   * @throws IllegalArgumentException if the samples that it is made of do not go together
   */
  T sample();

  /**
   * Reads a whole file.
   *
   * @param file its name for messages
   * @param bytes what it holds
   * @return the value
   * @throws millrace.fault.BadInputException with every fault found
   */
  default T readFile(String file, byte[] bytes) {
    Node root = YamlFile.read(file, bytes);
    InputFaultList faults = new InputFaultList();
    Optional<T> value = read(root, faults);
    faults.throwIfAny();
    return value.orElseThrow();
  }
}
