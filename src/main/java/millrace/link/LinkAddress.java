// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.util.Locale;
import java.util.Optional;
import millrace.quantity.EnumWord;
import millrace.quantity.NumberText;

/** The address of an instrument. Immutable value type. */
public sealed interface LinkAddress
    permits LinkAddress.Tcp, LinkAddress.Serial, LinkAddress.ByHand {

  /** How addresses are written, for messages. */
  String GRAMMAR =
      "'tcp HOST:PORT', or 'serial PORT [RATE] [8N1] [xon/xoff or rts/cts]' with PORT a path, a"
          + " name or usb=SERIAL-NUMBER, or 'by hand'";

  /**
   * A TCP socket.
   *
   * @param host name or address
   * @param port 1 to 65535
   */
  record Tcp(String host, int port) implements LinkAddress {
    /** Checks the port. */
    public Tcp {
      if (host.isBlank() || port < 1 || port > 65535) {
        throw new IllegalArgumentException(
            "'%s:%s' is no address; expected a host and a port from 1 to 65535"
                .formatted(host, port));
      }
    }

    @Override
    public String toString() {
      return "tcp " + (host.indexOf(':') >= 0 ? "[" + host + "]" : host) + ":" + port;
    }
  }

  /**
   * A serial line.
   *
   * @param port path, system name, or {@code usb=} and the adapter's serial number
   * @param rate bits per second, 50 to 4000000
   * @param dataBits 5 to 8
   * @param parity none, even or odd
   * @param stopBits 1 or 2
   * @param flow flow control
   */
  record Serial(String port, int rate, int dataBits, Parity parity, int stopBits, Flow flow)
      implements LinkAddress {
    /** Checks the settings. */
    public Serial {
      if (port.isBlank()) {
        throw new IllegalArgumentException("a serial address needs a port");
      }
      if (rate < 50 || rate > 4_000_000) {
        throw new IllegalArgumentException(
            "rate " + rate + " is out of range; expected 50 to 4000000 bits per second");
      }
      if (dataBits < 5 || dataBits > 8 || stopBits < 1 || stopBits > 2) {
        throw new IllegalArgumentException(
            "frame %s%s%s is out of range; expected for example 8N1"
                .formatted(dataBits, parity.letter(), stopBits));
      }
    }

    @Override
    public String toString() {
      String end = flow == Flow.NONE ? "" : " " + flow.text();
      return "serial %s %s %s%s%s%s"
          .formatted(port, rate, dataBits, parity.letter(), stopBits, end);
    }
  }

  /** No link at all: a person sets and reads the instrument. */
  record ByHand() implements LinkAddress {
    @Override
    public String toString() {
      return "by hand";
    }
  }

  /** Parity of a serial line. */
  enum Parity {
    /** No parity bit. */
    NONE("N"),
    /** Even parity. */
    EVEN("E"),
    /** Odd parity. */
    ODD("O");

    private final String letter;

    Parity(String letter) {
      this.letter = letter;
    }

    /**
     * The letter in a frame such as 8N1.
     *
     * @return N, E or O
     */
    public String letter() {
      return letter;
    }
  }

  /** Flow control of a serial line. */
  enum Flow implements EnumWord {
    /** None. */
    NONE("none"),
    /** XON and XOFF characters. */
    XON_XOFF("xon/xoff"),
    /** RTS and CTS lines. */
    RTS_CTS("rts/cts");

    private final String text;

    Flow(String text) {
      this.text = text;
    }

    @Override
    public String text() {
      return text;
    }
  }

  /**
   * Reads an address.
   *
   * <p>Grammar: {@code tcp HOST:PORT}, {@code serial PORT [RATE] [FRAME] [FLOW]} with defaults
   * 9600, 8N1 and no flow control, or {@code by hand}.
   *
   * <pre>
   * accepted: tcp 127.0.0.1:5025 | tcp [::1]:5025 | serial /dev/ttyUSB0 | serial usb=A7F3 19200 7E1 rts/cts
   * refused:  127.0.0.1:5025 | tcp localhost | serial | serial COM3 fast
   * </pre>
   *
   * @param text the address as written
   * @return the address
   * @throws IllegalArgumentException if it does not follow the grammar; the message says what was
   *     expected
   */
  static LinkAddress parse(String text) {
    String[] words = text.strip().split("\\s+");
    if (words.length == 2 && words[0].equals("tcp")) {
      return tcp(text, words[1]);
    }
    if (words.length >= 2 && words[0].equals("serial")) {
      return serial(text, words);
    }
    if (words.length == 2 && words[0].equals("by") && words[1].equals("hand")) {
      return new ByHand();
    }
    throw off(text);
  }

  private static LinkAddress tcp(String text, String hostAndPort) {
    int colon = hostAndPort.lastIndexOf(':');
    Optional<Integer> port = colon < 1 ? Optional.empty() : whole(hostAndPort.substring(colon + 1));
    if (port.isEmpty()) {
      throw off(text);
    }
    String host = hostAndPort.substring(0, colon);
    boolean bracketed = host.startsWith("[") && host.endsWith("]");
    return new Tcp(bracketed ? host.substring(1, host.length() - 1) : host, port.get());
  }

  private static LinkAddress serial(String text, String[] words) {
    Serial address = new Serial(words[1], 9600, 8, Parity.NONE, 1, Flow.NONE);
    for (int i = 2; i < words.length; i++) {
      address = with(address, words[i], text);
    }
    return address;
  }

  private static Serial with(Serial a, String word, String text) {
    String upper = word.toUpperCase(Locale.ROOT);
    Optional<Flow> flow = EnumWord.find(Flow.class, word);
    if (flow.isPresent()) {
      return new Serial(a.port, a.rate, a.dataBits, a.parity, a.stopBits, flow.get());
    }
    for (Parity parity : Parity.values()) {
      if (upper.length() == 3 && upper.substring(1, 2).equals(parity.letter())) {
        int data = upper.charAt(0) - '0';
        int stop = upper.charAt(2) - '0';
        return new Serial(a.port, a.rate, data, parity, stop, a.flow);
      }
    }
    int rate = whole(word).orElseThrow(() -> off(text));
    return new Serial(a.port, rate, a.dataBits, a.parity, a.stopBits, a.flow);
  }

  private static Optional<Integer> whole(String word) {
    var number = NumberText.parse(word);
    boolean whole =
        number.isPresent()
            && number.getAsDouble() == Math.rint(number.getAsDouble())
            && Math.abs(number.getAsDouble()) < 1e9;
    return whole ? Optional.of((int) number.getAsDouble()) : Optional.empty();
  }

  private static IllegalArgumentException off(String text) {
    return new IllegalArgumentException("'" + text + "' is no address; expected " + GRAMMAR);
  }
}
