#include "science/check_character.h"

#include <string.h>

static const char alphabet[] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";

static int
value_of (char c)
{
  const char *at = c ? strchr (alphabet, g_ascii_toupper (c)) : NULL;

  return at ? (int) (at - alphabet) : -1;
}

static gboolean
is_filler (char c)
{
  return c == '-' || c == ' ';
}

/* The hybrid system of ISO 7064 clause 9: product mod 37, sum mod 36. */
static char
check_of (const char *code, gsize length)
{
  int product = 36;
  gboolean any = FALSE;

  for (gsize i = 0; i < length; i++)
    {
      if (is_filler (code[i]))
        continue;
      int value = value_of (code[i]);
      if (value < 0)
        return 0;
      int sum = (product + value) % 36;
      product = ((sum ? sum : 36) * 2) % 37;
      any = TRUE;
    }
  return any ? alphabet[(37 - product) % 36] : 0;
}

char
bed_check_character (const char *code)
{
  g_return_val_if_fail (code != NULL, 0);
  return check_of (code, strlen (code));
}

gboolean
bed_check_character_valid (const char *code)
{
  g_return_val_if_fail (code != NULL, FALSE);
  gsize length = strlen (code);

  if (length < 2)
    return FALSE;
  char check = check_of (code, length - 1);
  return check && check == g_ascii_toupper (code[length - 1]);
}
