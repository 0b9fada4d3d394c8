#error "science must not see gio/gio.h: DEVELOPERS.md, The rooms"
