#error "science must not see sqlite3.h: DEVELOPERS.md, The rooms"
