// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.Map;
import java.util.Optional;
import millrace.document.yaml.Node;
import millrace.document.yaml.YamlFile;
import millrace.fault.InputFaultList;

/**
 * What a part of a file may hold: it reads a node into a value, collecting every fault with its
 * place, and it prints the same rule as JSON Schema, so that the two cannot drift apart.
 *
 * <p>Forms are made with {@link YamlForms} and {@link YamlMapForm}. Immutable and thread-safe.
 *
 * @param <T> what is read
 */
public interface YamlForm<T> {
  /**
   * Reads a node.
   *
   * @param node what stands in the file
   * @param faults takes everything that is wrong with it
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
   * A value as this form could read it. {@link YamlMapForm} hands it on while it learns which keys
   * a map has; it never becomes a part of what is read.
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
