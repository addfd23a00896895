// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import millrace.fault.InstrumentException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class LinkAddressTest {
  @ParameterizedTest
  @CsvSource({
    "tcp 127.0.0.1:5025, tcp 127.0.0.1:5025",
    "tcp meter.lab:1, tcp meter.lab:1",
    "tcp [::1]:5025, tcp [::1]:5025",
    "serial /dev/ttyUSB0, serial /dev/ttyUSB0 9600 8N1",
    "serial COM3 115200, serial COM3 115200 8N1",
    "serial usb=A7F3 19200 7E1 rts/cts, serial usb=A7F3 19200 7E1 rts/cts",
    "'  serial   /dev/ttyS1  8o2   xon/xoff ', serial /dev/ttyS1 9600 8O2 xon/xoff"
  })
  void readsWhatIsWrittenAndPrintsItBack(String text, String printed) {
    LinkAddress address = LinkAddress.parse(text);
    assertEquals(printed, address.toString());
    assertEquals(address, LinkAddress.parse(address.toString()));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "127.0.0.1:5025",
        "tcp localhost",
        "tcp :5025",
        "tcp a:0",
        "tcp a:65536",
        "tcp a:1.5",
        "serial",
        "serial COM3 fast",
        "serial COM3 9N1",
        "serial COM3 8N3",
        "serial COM3 10",
        "udp 127.0.0.1:1",
        ""
      })
  void refusesWhatIsNoAddress(String text) {
    String message =
        assertThrows(IllegalArgumentException.class, () -> LinkAddress.parse(text)).getMessage();
    assertTrue(message.contains("expected"), message);
  }

  @Test
  void findsThePortByTheSerialNumberOfItsAdapter() {
    List<SerialPorts.Known> ports =
        List.of(
            new SerialPorts.Known("/dev/ttyUSB0", "ttyUSB0", "adapter", Optional.of("A1")),
            new SerialPorts.Known("/dev/ttyUSB1", "ttyUSB1", "adapter", Optional.of("B2")),
            new SerialPorts.Known("/dev/ttyS0", "ttyS0", "board", Optional.empty()));
    assertEquals("/dev/ttyUSB1", SerialPorts.chosen(serial("usb=B2"), ports));
    assertEquals(
        "serial usb=C3 9600 8N1: there is no such port; expected one of /dev/ttyUSB0 (adapter,"
            + " usb=A1), /dev/ttyUSB1 (adapter, usb=B2), /dev/ttyS0 (board). Check the cable and"
            + " the bench file.",
        assertThrows(InstrumentException.class, () -> SerialPorts.chosen(serial("usb=C3"), ports))
            .getMessage());
  }

  @Test
  void refusesASerialNumberThatTwoAdaptersHave() {
    SerialPorts.Known one = new SerialPorts.Known("/dev/a", "a", "adapter", Optional.of("A1"));
    SerialPorts.Known two = new SerialPorts.Known("/dev/b", "b", "adapter", Optional.of("A1"));
    assertEquals(
        "serial usb=A1 9600 8N1: 2 ports have this serial number: /dev/a (adapter, usb=A1), /dev/b"
            + " (adapter, usb=A1); expected one. Name the port by its path.",
        assertThrows(
                InstrumentException.class,
                () -> SerialPorts.chosen(serial("usb=A1"), List.of(one, two)))
            .getMessage());
  }

  private static LinkAddress.Serial serial(String port) {
    return (LinkAddress.Serial) LinkAddress.parse("serial " + port);
  }
}
