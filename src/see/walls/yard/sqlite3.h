#error "yard must not see sqlite3.h: DEVELOPERS.md, The rooms"
