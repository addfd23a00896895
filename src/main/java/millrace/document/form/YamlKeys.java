// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.Optional;
import millrace.fault.FilePlace;
import millrace.quantity.Dimension;

/**
 * The keys of one map in a file. The code that makes the map's value asks for each key where it
 * needs the value, so that a key with its form and its words is written in one place; see {@link
 * YamlMapForm}. Single-threaded.
 */
public abstract class YamlKeys {
  YamlKeys() {}

  /** The value of a key; empty if the key is absent, never for a required key. */
  abstract <V> Optional<V> find(String name, YamlForm<V> form, String doc, boolean required);

  /** The place of the map. @return the place of its first character */
  public abstract FilePlace place();

  /**
   * A key that must be there.
   *
   * @param name the key
   * @param form the form of its value
   * @param doc what it means, for messages and the schema
   * @param <V> what is read
   * @return its value
   */
  public final <V> V required(String name, YamlForm<V> form, String doc) {
    return find(name, form, doc, true).orElseThrow();
  }

  /**
   * A key with a quantity that must be there.
   *
   * @param name the key
   * @param kind the kind of quantity
   * @param doc what it means, for messages and the schema
   * @return its value, in base units
   */
  public final double required(String name, Dimension kind, String doc) {
    return required(name, YamlForms.quantity(kind), doc);
  }

  /**
   * A key that may be left out.
   *
   * @param name the key
   * @param form the form of its value
   * @param doc what it means, for the schema
   * @param <V> what is read
   * @return its value; empty if it is left out
   */
  public final <V> Optional<V> optional(String name, YamlForm<V> form, String doc) {
    return find(name, form, doc, false);
  }

  /**
   * A key with a quantity that may be left out.
   *
   * @param name the key
   * @param kind the kind of quantity
   * @param doc what it means, for the schema
   * @return its value, in base units; empty if it is left out
   */
  public final Optional<Double> optional(String name, Dimension kind, String doc) {
    return optional(name, YamlForms.quantity(kind), doc);
  }

  /**
   * An optional key with a default.
   *
   * @param name the key
   * @param form the form of its value
   * @param otherwise the default
   * @param doc what it means, for the schema; should name the default
   * @param <V> what is read
   * @return the value or the default
   */
  public final <V> V optional(String name, YamlForm<V> form, V otherwise, String doc) {
    return optional(name, form, doc).orElse(otherwise);
  }

  /**
   * An optional key with a quantity and a default.
   *
   * @param name the key
   * @param kind the kind of quantity
   * @param otherwise the default, in base units
   * @param doc what it means, for the schema; should name the default
   * @return the value or the default, in base units
   */
  public final double optional(String name, Dimension kind, double otherwise, String doc) {
    return optional(name, kind, doc).orElse(otherwise);
  }
}
