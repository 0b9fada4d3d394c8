#error "yard must not see glpk.h: DEVELOPERS.md, The rooms"
