package soakbench.bench.pictures;

import java.awt.image.BufferedImage;
import java.awt.image.IndexColorModel;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.Comparator;
import java.util.HashMap;
import java.util.Map;
import javax.imageio.ImageIO;

/** A picture of a page with the 256 colours that most of its pixels have: a third of the bytes. */
final class SmallPng {
  private static final int COLOURS = 256;

  private SmallPng() {}

  static byte[] of(byte[] png) throws IOException {
    BufferedImage all = ImageIO.read(new ByteArrayInputStream(png));
    int[] pixels = all.getRGB(0, 0, all.getWidth(), all.getHeight(), null, 0, all.getWidth());
    Map<Integer, Integer> counts = new HashMap<>();
    for (int pixel : pixels) {
      counts.merge(pixel & 0xFFFFFF, 1, Integer::sum);
    }
    int[] palette =
        counts.entrySet().stream()
            .sorted(
                Map.Entry.<Integer, Integer>comparingByValue(Comparator.reverseOrder())
                    .thenComparing(Map.Entry.comparingByKey()))
            .limit(COLOURS)
            .mapToInt(Map.Entry::getKey)
            .toArray();
    Map<Integer, Integer> places = new HashMap<>();
    BufferedImage small =
        new BufferedImage(
            all.getWidth(),
            all.getHeight(),
            BufferedImage.TYPE_BYTE_INDEXED,
            new IndexColorModel(8, palette.length, palette, 0, false, -1, 0));
    for (int i = 0; i < pixels.length; i++) {
      int place = places.computeIfAbsent(pixels[i] & 0xFFFFFF, c -> nearest(palette, c));
      small.getRaster().setSample(i % all.getWidth(), i / all.getWidth(), 0, place);
    }
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    ImageIO.write(small, "png", out);
    return out.toByteArray();
  }

  private static int nearest(int[] palette, int colour) {
    int best = 0;
    for (int i = 1; i < palette.length; i++) {
      if (distance(palette[i], colour) < distance(palette[best], colour)) {
        best = i;
      }
    }
    return best;
  }

  private static int distance(int a, int b) {
    int red = (a >> 16) - (b >> 16);
    int green = (a >> 8 & 255) - (b >> 8 & 255);
    int blue = (a & 255) - (b & 255);
    return red * red + green * green + blue * blue;
  }
}
