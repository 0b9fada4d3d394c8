#include "report/page_text.h"

/* Characters of one part, commands apart: three of them, each & doubled and each character of
 * four bytes, stay below 255, which libxlsxwriter counts. */
#define MOST 60

void
bed_page_text_append (GString *page, const BedPageText *how, const char *text)
{
  g_return_if_fail (page != NULL && how != NULL && text != NULL);
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  glong length = g_utf8_strlen (valid, -1);
  const char *at = valid;

  /* The font stands between the size and the text, which may begin with a figure. */
  g_string_append_printf (page, "%s&%d&\"%s\"", how->where, how->size, how->font);
  for (glong i = 0; i < MIN (length, length > MOST ? MOST - 1 : MOST); i++)
    {
      gunichar c = g_utf8_get_char (at);
      if (c == '&')
        {
          gunichar next = g_utf8_get_char (g_utf8_next_char (at));

          g_string_append (page, "&&");
          /* libxlsxwriter takes the second half of && before a G or a bracket for the place of a
           * picture, and frees twice what it then refuses: the size between changes nothing. */
          if (next == 'G' || next == '[')
            g_string_append_printf (page, "&%d", how->size);
        }
      else
        g_string_append_unichar (page, g_unichar_iscntrl (c) ? ' ' : c);
      at = g_utf8_next_char (at);
    }
  if (length > MOST)
    g_string_append (page, "…");
}
