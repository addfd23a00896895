// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import com.digitalpetri.modbus.ExceptionCode;
import java.util.Locale;
import java.util.Optional;

/**
 * The exception response of a Modbus device: the function with its highest bit set, and a code for
 * the reason (Modbus Application Protocol V1.1b3, 7).
 */
public final class ModbusRefusal {
  private ModbusRefusal() {}

  /**
   * The reason of a refusal.
   *
   * @param hex address, function and data as hex digits
   * @return the code and its name, as in {@code exception 2 (illegal data address)}; empty if the
   *     reply is no refusal
   */
  public static Optional<String> in(String hex) {
    if (!hex.matches("[0-9A-Fa-f]{2}[89A-Fa-f][0-9A-Fa-f]{3}")) {
      return Optional.empty();
    }
    int code = Integer.parseInt(hex.substring(4), 16);
    String name = ExceptionCode.from(code).map(ModbusRefusal::text).orElse("a code of its own");
    return Optional.of("exception " + code + " (" + name + ")");
  }

  private static String text(ExceptionCode code) {
    return code.name().toLowerCase(Locale.ROOT).replace('_', ' ');
  }
}
