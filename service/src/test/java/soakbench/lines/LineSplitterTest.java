package soakbench.lines;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class LineSplitterTest {
  private final List<String> heard = new ArrayList<>();
  private final LineSplitter splitter =
      new LineSplitter(
          new LineSplitter.Lines() {
            @Override
            public void line(byte[] bytes, int offset, int length) {
              heard.add(new String(bytes, offset, length, ISO_8859_1));
            }

            @Override
            public void overLong(byte[] bytes, int offset, int length) {
              heard.add("over-long " + length);
            }
          });

  private void feed(String text) {
    byte[] bytes = ("<" + text + ">").getBytes(ISO_8859_1);
    splitter.feed(bytes, 1, bytes.length - 2);
  }

  @Test
  void theCutMakesNoDifference() {
    String text = "one\r\n\ntwo\nth\rree\r\r\n\u00e9\u0000x\n";
    for (int first = 0; first <= text.length(); first++) {
      for (int second = first; second <= text.length(); second++) {
        heard.clear();
        feed(text.substring(0, first));
        feed(text.substring(first, second));
        feed(text.substring(second));
        assertThat(heard).containsExactly("one", "", "two", "th\rree\r", "\u00e9\u0000x");
      }
    }
  }

  @Test
  void theLongestLineIsTakenAndOneByteMoreIsNot() {
    String longest = "x".repeat(LineSplitter.LONGEST_LINE);
    for (int step : new int[] {1, 7, 4095, 4096, 4097, 5000}) {
      for (String end : new String[] {"\n", "\r\n"}) {
        heard.clear();
        inSteps(longest + end + longest + "y" + end + "next\n", step);
        assertThat(heard).as("step %d", step).containsExactly(longest, "over-long 4096", "next");
      }
    }
  }

  @Test
  void anEndlessLineIsSkippedToItsEndAndCountedOnce() {
    for (int i = 0; i < 100; i++) {
      feed("x".repeat(1000));
    }
    feed("\nnext\n");
    assertThat(heard).containsExactly("over-long 4096", "next");
  }

  @Test
  void theEndOfAFileEndsItsLastLine() {
    feed("one\ntwo");
    splitter.end();
    assertThat(heard).containsExactly("one", "two");
  }

  @Test
  void aLineThatWasCutOffIsGivenBackAndForgotten() {
    feed("one\ntw");
    assertThat(new String(splitter.cut(), ISO_8859_1)).isEqualTo("tw");
    feed("three\n");
    assertThat(heard).containsExactly("one", "three");
    assertThat(splitter.cut()).isEmpty();
  }

  private void inSteps(String text, int step) {
    for (int from = 0; from < text.length(); from += step) {
      feed(text.substring(from, Math.min(text.length(), from + step)));
    }
  }
}
